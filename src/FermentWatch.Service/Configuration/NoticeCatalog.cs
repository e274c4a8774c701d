using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Configuration;

/// <summary>Notices, alerts and what is kept.</summary>
internal static class NoticeCatalog
{
    public static Setting<Uri?> RelayUrl { get; } = new()
    {
        Key = "Relay:Url",
        Meaning = "Topic address of a push relay, to which notices are sent by HTTP. Whoever knows it may read them: keep it secret.",
        DefaultText = "none: no notices are sent",
        Allowed = "an http:// or https:// address without user name and fragment",
        Example = "https://relay.example.org/my-secret-topic",
        Secret = true,
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.WebAddress),
    };

    public static Setting<string?> RelayToken { get; } = new()
    {
        Key = "Relay:Token",
        Meaning = "Token that the relay wants, sent as a bearer token.",
        DefaultText = "none",
        Allowed = "1 to 1000 printable ASCII characters without spaces",
        Example = "2f9d0c1e",
        Secret = true,
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Token),
    };

    public static Setting<string?> RelayTemplate { get; } = new()
    {
        Key = "Relay:Template",
        Meaning = "Body of a notice, for a relay that wants its own names. {title}, {text}, {priority}, {link} and {key} stand for the parts of the notice, {on-it}, {snooze} and {wrong} for the addresses of its buttons, {acts} for a list of all three, {picture} for its chart as a PNG in base64.",
        DefaultText = "none: the default body",
        Allowed = "a JSON object as text, at most 4000 characters, with {title} or {text} inside one of its strings, and of other places only those named",
        Example = "{\"heading\":\"{title}\",\"message\":\"{text}\"}",
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Template),
    };

    public static Setting<ValueList<string>?> RelayPriorities { get; } = new()
    {
        Key = "Relay:Priorities",
        Meaning = "What {priority} becomes for silent, normal, important and urgent notices; whole numbers are sent as numbers.",
        DefaultText = "silent,normal,important,urgent",
        Allowed = "four words or numbers of at most 40 characters, separated by commas",
        Example = "1,2,4,5",
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Priorities),
    };

    public static Setting<TimeOnly> QuietFrom { get; } = new()
    {
        Key = "Alerts:QuietFrom",
        Meaning = "Begin of the quiet hours, in which only what cannot wait is sent.",
        DefaultText = "22:00",
        Allowed = "a time of day as HH:mm from 00:00 to 23:59",
        Example = "22:00",
        Default = () => new TimeOnly(22, 0),
        Read = SettingReaders.TimeOfDay,
    };

    public static Setting<TimeOnly> QuietUntil { get; } = new()
    {
        Key = "Alerts:QuietUntil",
        Meaning = "End of the quiet hours; the same as the begin for none.",
        DefaultText = "08:00",
        Allowed = "a time of day as HH:mm from 00:00 to 23:59",
        Example = "07:30",
        Default = () => new TimeOnly(8, 0),
        Read = SettingReaders.TimeOfDay,
    };

    public static Setting<double> SilentTemperatureIntervals { get; } = new()
    {
        Key = "Alerts:Silent:TemperatureIntervals",
        Meaning = "A temperature sensor counts as silent after this many of its own intervals, but see the next.",
        DefaultText = "3",
        Allowed = "a number from 2 to 1000",
        Example = "3",
        Default = () => 3,
        Read = SettingReaders.Number(2, 1000),
    };

    public static Setting<double> SilentTemperatureHours { get; } = new()
    {
        Key = "Alerts:Silent:TemperatureAtLeastHours",
        Meaning = "Shortest silence of a temperature sensor that counts, in hours.",
        DefaultText = "2",
        Allowed = "a number from 0.1 to 168, in hours",
        Example = "2",
        Default = () => 2,
        Read = SettingReaders.Number(0.1, 168),
    };

    public static Setting<double> SilentGravityIntervals { get; } = new()
    {
        Key = "Alerts:Silent:GravityIntervals",
        Meaning = "A gravity sensor counts as silent after this many of its own intervals, but see the next.",
        DefaultText = "12",
        Allowed = "a number from 2 to 1000",
        Example = "12",
        Default = () => 12,
        Read = SettingReaders.Number(2, 1000),
    };

    public static Setting<double> SilentGravityHours { get; } = new()
    {
        Key = "Alerts:Silent:GravityAtLeastHours",
        Meaning = "Shortest silence of a gravity sensor that counts, in hours.",
        DefaultText = "12",
        Allowed = "a number from 0.1 to 168, in hours",
        Example = "12",
        Default = () => 12,
        Read = SettingReaders.Number(0.1, 168),
    };

    public static Setting<double> GroupWaitSeconds { get; } = new()
    {
        Key = "Alerts:GroupWaitSeconds",
        Meaning = "How long a notice waits for others about the same batch, in seconds.",
        DefaultText = "60",
        Allowed = "a number from 0 to 600, in seconds",
        Example = "60",
        Default = () => 60,
        Read = SettingReaders.Number(0, 600),
    };

    public static Setting<Uri?> HeartbeatUrl { get; } = new()
    {
        Key = "Alerts:HeartbeatUrl",
        Meaning = "Address of a watcher outside this house that tells you when this program is gone: it is asked for every 5 minutes. Whoever knows it can pretend that all is well: keep it secret.",
        DefaultText = "none: nobody outside watches",
        Allowed = "an http:// or https:// address without user name and fragment",
        Example = "https://watcher.example.org/my-secret-check",
        Secret = true,
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.WebAddress),
    };

    public static Setting<int> InboxDays { get; } = new()
    {
        Key = "Retention:InboxDays",
        Meaning = "How long raw messages are kept, in days. Readings are kept for good.",
        DefaultText = "14",
        Allowed = "a whole number from 1 to 365, in days",
        Example = "30",
        Default = () => 14,
        Read = SettingReaders.Whole(1, 365),
    };

    public static Setting<int> InboxMegabytes { get; } = new()
    {
        Key = "Retention:InboxMegabytes",
        Meaning = "How much room raw messages may take, in MB (1,000,000 bytes); the oldest go first.",
        DefaultText = "256",
        Allowed = "a whole number from 16 to 10000, in MB",
        Example = "512",
        Default = () => 256,
        Read = SettingReaders.Whole(16, 10000),
    };
}
