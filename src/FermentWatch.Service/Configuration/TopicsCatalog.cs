using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Configuration;

/// <summary>Which messages are readings.</summary>
internal static class TopicsCatalog
{
    public static Setting<string> TopicSensor { get; } = new()
    {
        Key = "Topics[]:Sensor",
        Meaning = "Name of the sensor; {1}, {2} stand for the first, second wildcard level of the filter, so that one entry serves many sensors.",
        DefaultText = "required",
        Allowed = "1 to 80 characters; braces hold the number of a wildcard level of the filter",
        Example = "carboy {1}",
        Read = SettingReaders.Text(1, 80),
    };

    public static Setting<TopicFilter> TopicFilterText { get; } = new()
    {
        Key = "Topics[]:Filter",
        Meaning = "MQTT topic filter: which topics are meant. + stands for one level, # at the end for the rest.",
        DefaultText = "required",
        Allowed = "an MQTT topic filter of at most 65535 bytes",
        Example = "cellar/+/state",
        Read = SettingReaders.Filter,
    };

    public static Setting<JsonPointer?> FieldPointer { get; } = new()
    {
        Key = "Topics[]:Fields[]:Pointer",
        Meaning = "JSON Pointer (RFC 6901) to the number in the message.",
        DefaultText = "none: the whole message is a plain number",
        Allowed = "a JSON Pointer: names joined by '/', beginning with '/'",
        Example = "/gravity",
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.FieldPointer),
    };

    public static Setting<QuantityKind> FieldQuantity { get; } = new()
    {
        Key = "Topics[]:Fields[]:Quantity",
        Meaning = "What the number is about. room-CO2 is for the curve and no safety alarm: in the cellar use a carbon dioxide alarm made for people.",
        DefaultText = "required",
        Allowed = SettingWords.OneOf(SettingWords.Quantities.Keys),
        Example = "gravity",
        Read = SettingReaders.Word(SettingWords.Quantities),
    };

    public static Setting<MeasurementUnit> FieldUnit { get; } = new()
    {
        Key = "Topics[]:Fields[]:Unit",
        Meaning = "Unit in which the device sends it; must fit the quantity.",
        DefaultText = "required",
        Allowed = SettingWords.OneOf(SettingWords.Units.Keys),
        Example = "SG",
        Read = SettingReaders.Word(SettingWords.Units),
    };

    public static Setting<JsonPointer?> TimePointer { get; } = new()
    {
        Key = "Topics[]:Time:Pointer",
        Meaning = "JSON Pointer to the device's own time of the sample.",
        DefaultText = "none: the arrival counts",
        Allowed = "a JSON Pointer: names joined by '/', beginning with '/'",
        Example = "/time",
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.FieldPointer),
    };

    public static Setting<TimeFormat> TimeFormatWord { get; } = new()
    {
        Key = "Topics[]:Time:Format",
        Meaning = "How the device writes its time.",
        DefaultText = "iso8601",
        Allowed = "'iso8601' (with Z or an offset), 'unix-seconds' or 'unix-milliseconds'",
        Example = "unix-seconds",
        Default = () => TimeFormat.Iso8601,
        Read = SettingReaders.Word(SettingWords.TimeFormats),
    };
}
