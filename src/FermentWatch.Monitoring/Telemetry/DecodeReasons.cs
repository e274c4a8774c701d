namespace FermentWatch.Monitoring.Telemetry;

/// <summary>Codes of the reasons why a message, a field or a device time was not taken; the resource files hold their words.</summary>
public static class DecodeReasons
{
    /// <summary>The topic is not one of the mapping's. Values: topic, filter.</summary>
    public const string TopicNotMapped = "topic-not-mapped";

    /// <summary>The name that the topic gives the sensor is empty, longer than 80 characters, or holds control characters. Values: name.</summary>
    public const string SensorNameUnusable = "sensor-name-unusable";

    /// <summary>The message is empty.</summary>
    public const string PayloadEmpty = "payload-empty";

    /// <summary>The message is longer than is read. Values: its size in bytes, the limit in bytes.</summary>
    public const string PayloadTooLong = "payload-too-long";

    /// <summary>The message is not UTF-8 text.</summary>
    public const string PayloadNotText = "payload-not-text";

    /// <summary>The message is not JSON, though the mapping names a field in it. Values: the line of the first mistake, from 1, and the byte in that line, from 1.</summary>
    public const string PayloadNotJson = "payload-not-json";

    /// <summary>Objects and arrays are nested deeper than is read. Values: the limit.</summary>
    public const string PayloadTooDeep = "payload-too-deep";

    /// <summary>The mapping expects a plain number, and the message is JSON: a field must be chosen.</summary>
    public const string PayloadIsJson = "payload-is-json";

    /// <summary>The field is not in the message. Values: pointer.</summary>
    public const string FieldMissing = "field-missing";

    /// <summary>A name on the way to the field occurs more than once. Values: pointer, name.</summary>
    public const string FieldAmbiguous = "field-ambiguous";

    /// <summary>The field is null: the device says that it has no value.</summary>
    public const string NumberIsNull = "number-is-null";

    /// <summary>The field is true or false. Values: which.</summary>
    public const string NumberIsBoolean = "number-is-boolean";

    /// <summary>The field is an object or an array.</summary>
    public const string NumberIsStructure = "number-is-structure";

    /// <summary>The text is empty or blank.</summary>
    public const string NumberIsBlank = "number-is-blank";

    /// <summary>A decimal comma: a decimal point is expected. Values: the text, the text with a point.</summary>
    public const string NumberHasComma = "number-has-comma";

    /// <summary>Not a number, an infinity, or beyond what a number can be. Values: the text.</summary>
    public const string NumberNotFinite = "number-not-finite";

    /// <summary>More than 64 characters. Values: how many.</summary>
    public const string NumberTooLong = "number-too-long";

    /// <summary>Something else than digits, one point, a sign and an exponent. Values: the text.</summary>
    public const string NumberNotPlain = "number-not-plain";

    /// <summary>Outside what can be, and no other unit of the quantity fits. Values: number, lowest, highest, each with its unit.</summary>
    public const string ValueImplausible = "value-implausible";

    /// <summary>Outside what can be, but it would fit another unit. Values: number, lowest, highest, then the number in that unit.</summary>
    public const string ValueFitsOtherUnit = "value-fits-other-unit";

    /// <summary>As <see cref="ValueFitsOtherUnit"/>, with two units that fit.</summary>
    public const string ValueFitsTwoUnits = "value-fits-two-units";

    /// <summary>As <see cref="ValueFitsOtherUnit"/>, with three units that fit.</summary>
    public const string ValueFitsThreeUnits = "value-fits-three-units";

    /// <summary>As <see cref="ValueFitsOtherUnit"/>, with four units that fit.</summary>
    public const string ValueFitsFourUnits = "value-fits-four-units";

    /// <summary>The device time is not text or a number of the kind that the mapping says. Values: the text.</summary>
    public const string TimeUnreadable = "time-unreadable";

    /// <summary>A date and time without Z or an offset such as +02:00: which zone is meant is unknown. Values: the text.</summary>
    public const string TimeWithoutOffset = "time-without-offset";

    /// <summary>The time is outside the years 1 to 9999. Values: the text.</summary>
    public const string TimeOutOfRange = "time-out-of-range";

    /// <summary>Mapped as Unix seconds, but it looks like milliseconds. Values: the text.</summary>
    public const string TimeFitsMilliseconds = "time-fits-milliseconds";

    /// <summary>Mapped as Unix milliseconds, but it looks like seconds. Values: the text.</summary>
    public const string TimeFitsSeconds = "time-fits-seconds";

    /// <summary>Every code above.</summary>
    public static ValueList<string> All { get; } = ValueList.Of<string>(
        TopicNotMapped,
        SensorNameUnusable,
        PayloadEmpty,
        PayloadTooLong,
        PayloadNotText,
        PayloadNotJson,
        PayloadTooDeep,
        PayloadIsJson,
        FieldMissing,
        FieldAmbiguous,
        NumberIsNull,
        NumberIsBoolean,
        NumberIsStructure,
        NumberIsBlank,
        NumberHasComma,
        NumberNotFinite,
        NumberTooLong,
        NumberNotPlain,
        ValueImplausible,
        ValueFitsOtherUnit,
        ValueFitsTwoUnits,
        ValueFitsThreeUnits,
        ValueFitsFourUnits,
        TimeUnreadable,
        TimeWithoutOffset,
        TimeOutOfRange,
        TimeFitsMilliseconds,
        TimeFitsSeconds);
}
