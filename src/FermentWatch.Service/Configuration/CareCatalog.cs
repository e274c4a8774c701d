namespace FermentWatch.Service.Configuration;

/// <summary>Backups, metrics, what is told at the broker, and the log.</summary>
internal static class CareCatalog
{
    public static Setting<string> BackupFolder { get; } = new()
    {
        Key = "Backup:Folder",
        Meaning = "Directory into which backups go. Better on another disk than the data.",
        DefaultText = "backups in the data directory",
        Allowed = "the path of a directory; a relative one begins at the data directory",
        Example = "/mnt/second/fermentwatch",
        Default = () => Infrastructure.Storage.Backup.FolderName,
        Read = SettingReaders.Text(1, 1000),
    };

    public static Setting<int> BackupHours { get; } = new()
    {
        Key = "Backup:EveryHours",
        Meaning = "How often a backup is made by itself, in hours; 0 for never.",
        DefaultText = "24",
        Allowed = "a whole number from 0 to 720, in hours",
        Example = "12",
        Default = () => 24,
        Read = SettingReaders.Whole(0, 720),
    };

    public static Setting<int> BackupKeep { get; } = new()
    {
        Key = "Backup:Keep",
        Meaning = "How many backups are kept in that directory; the oldest go first.",
        DefaultText = "7",
        Allowed = "a whole number from 1 to 1000",
        Example = "30",
        Default = () => 7,
        Read = SettingReaders.Whole(1, 1000),
    };

    public static Setting<string?> MetricsToken { get; } = new()
    {
        Key = "Metrics:Token",
        Meaning = "Token with which a collector may read /metrics, sent as a bearer token.",
        DefaultText = "none: there are no metrics",
        Allowed = "1 to 1000 printable ASCII characters without spaces",
        Example = "a-token-of-your-own",
        Secret = true,
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Token),
    };

    public static Setting<string?> MetricsTokenFile { get; } = new()
    {
        Key = "Metrics:TokenFile",
        Meaning = "File whose first line is that token; a relative path begins at the data directory.",
        DefaultText = "none",
        Allowed = "the path of a file that can be read",
        Example = "/etc/fermentwatch/metrics-token",
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Text(1, 1000)),
    };

    public static Setting<string?> StatesSite { get; } = new()
    {
        Key = "States:Site",
        Meaning = "Publishes phase and forecast of every batch at the broker, retained, on fermentwatch/state/ and this word. Services at one broker need one each.",
        DefaultText = "none: nothing is published",
        Allowed = "1 to 40 letters, digits, hyphens and underscores",
        Example = "home",
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Word(1, 40)),
    };

    public static Setting<bool> LogAsJson { get; } = new()
    {
        Key = "Log:Json",
        Meaning = "Whether each line of the log is a JSON object with its values named, for a program that collects logs.",
        DefaultText = "false",
        Allowed = "true or false",
        Example = "true",
        Default = () => false,
        Read = SettingReaders.YesOrNo(),
    };
}
