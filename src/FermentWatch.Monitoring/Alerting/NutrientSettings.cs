namespace FermentWatch.Monitoring.Alerting;

/// <summary>When a planned part of nutrient is told. Figures are common practice, no source.</summary>
public sealed record NutrientSettings
{
    /// <summary>Whether the rule is on.</summary>
    public bool Enabled { get; init; } = true;

    /// <summary>How long ahead a part is told at any hour.</summary>
    public TimeSpan Ahead { get; init; } = TimeSpan.FromHours(12);

    /// <summary>How long ahead it is told in the evening.</summary>
    public TimeSpan AheadInTheEvening { get; init; } = TimeSpan.FromHours(24);

    /// <summary>Hour of the day from which it is evening, 12 to 21.</summary>
    public int EveningFrom { get; init; } = 17;

    /// <summary>Share of the step past a mark from which it counts as missed, 0 to 1.</summary>
    public double MissedAt { get; init; } = 1.0 / 3;

    /// <summary>Repeats until acknowledged or cleared.</summary>
    public RepeatSettings Repeat { get; init; } = new(TimeSpan.FromHours(6), 2);
}

/// <summary>When a battery that runs down is told. Figures are common practice, no source.</summary>
public sealed record BatterySettings
{
    /// <summary>Whether the rule is on.</summary>
    public bool Enabled { get; init; } = true;

    /// <summary>Days that it must still last, if the ferment takes as long. [d]</summary>
    public double Days { get; init; } = 14;

    /// <summary>Days left at which it is clear again. [d]</summary>
    public double ClearDays { get; init; } = 21;

    /// <summary>Voltage at which the device of a sensor with a battery in volts stops; 0 when that is not known. [V]</summary>
    public double StopVolts { get; init; }

    /// <summary>Repeats until acknowledged or cleared.</summary>
    public RepeatSettings Repeat { get; init; } = new(TimeSpan.FromDays(7), 2);
}

/// <summary>When a forecast that moved is told, in the digest. Figures are common practice, no source.</summary>
public sealed record ForecastMovedSettings
{
    /// <summary>Whether the rule is on.</summary>
    public bool Enabled { get; init; } = true;

    /// <summary>A move of the finish that counts. [d]</summary>
    public double FinishDays { get; init; } = 3;

    /// <summary>How long it must hold.</summary>
    public TimeSpan OnDelay { get; init; } = TimeSpan.FromHours(24);

    /// <summary>A longer stretch without a judgment begins the hold anew.</summary>
    public TimeSpan GapLimit { get; init; } = TimeSpan.FromHours(12);

    /// <summary>Said once.</summary>
    public RepeatSettings Repeat { get; init; } = new(TimeSpan.FromDays(1), 0);
}
