using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.InOut;

/// <summary>How the times of a file are written.</summary>
public enum DateStyle
{
    /// <summary>2026-11-25 14:30, also with an offset behind it.</summary>
    YearFirst = 1,

    /// <summary>25.11.2026 14:30.</summary>
    DayFirst = 2,

    /// <summary>11/25/2026 2:30 PM.</summary>
    MonthFirst = 3,

    /// <summary>Seconds since 1970 in UTC.</summary>
    UnixSeconds = 4,

    /// <summary>Milliseconds since 1970 in UTC.</summary>
    UnixMilliseconds = 5,
}

/// <summary>What a column holds.</summary>
/// <param name="Key">Word that stands for it in forms: <c>time</c>, <c>date</c>, <c>clock</c>, <c>none</c>, or the word of a unit.</param>
/// <param name="Unit">The unit of its numbers; null for a column of times or one that is left out.</param>
public sealed record ColumnRole(string Key, MeasurementUnit? Unit)
{
    /// <summary>Left out.</summary>
    public static ColumnRole None { get; } = new("none", null);

    /// <summary>Date and time.</summary>
    public static ColumnRole Time { get; } = new("time", null);

    /// <summary>A date alone.</summary>
    public static ColumnRole Date { get; } = new("date", null);

    /// <summary>A time of day alone.</summary>
    public static ColumnRole Clock { get; } = new("clock", null);

    /// <summary>All that can be chosen.</summary>
    public static IReadOnlyList<ColumnRole> All { get; } =
        [None, Time, Date, Clock, .. Enum.GetValues<MeasurementUnit>().Select(unit => Of(unit))];

    /// <summary>Numbers in a unit.</summary>
    public static ColumnRole Of(MeasurementUnit unit) => new(SettingWords.Of(unit), unit);

    /// <summary>The role with that word, or null.</summary>
    public static ColumnRole? Find(string? key) => All.FirstOrDefault(role => role.Key == key);
}

/// <summary>How a file is to be read.</summary>
/// <param name="Separator">Between two cells.</param>
/// <param name="HasHeader">Whether the first record names the columns.</param>
/// <param name="DecimalComma">Whether numbers have a comma before their fraction.</param>
/// <param name="Dates">How times are written.</param>
/// <param name="Zone">Zone of times without an offset.</param>
/// <param name="Columns">What each column holds.</param>
/// <param name="Sensor">Sensor whose readings they are; in our own layout the file says it.</param>
/// <param name="IsOwnLayout">Whether the file is one that this program wrote: a row a reading.</param>
public sealed record ImportChoices(
    char Separator,
    bool HasHeader,
    bool DecimalComma,
    DateStyle Dates,
    TimeZoneInfo Zone,
    IReadOnlyList<ColumnRole> Columns,
    string Sensor,
    bool IsOwnLayout)
{
    /// <summary>Batch to which the readings belong; null to store them alone.</summary>
    public BatchId? Batch { get; init; }

    /// <summary>Where the sensor sat.</summary>
    public Placement Placement { get; init; } = Placement.InLiquid;
}
