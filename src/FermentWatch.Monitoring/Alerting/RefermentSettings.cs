namespace FermentWatch.Monitoring.Alerting;

/// <summary>When what was stabilized or sweetened works again. Figures are common practice, no source.</summary>
public sealed record RefermentSettings
{
    /// <summary>Whether the rule is on.</summary>
    public bool Enabled { get; init; } = true;

    /// <summary>How long after sweetening nothing is judged: sugar sinks and mixes.</summary>
    public TimeSpan AfterSweetening { get; init; } = TimeSpan.FromHours(48);

    /// <summary>A move of the temperature within <see cref="AfterSweetening"/> that leaves it undecided. [°C]</summary>
    public double MovedCelsius { get; init; } = 3;

    /// <summary>A fall that counts. [points a day]</summary>
    public double FallsPointsPerDay { get; init; } = 0.8;

    /// <summary>A rise of the pressure in a closed vessel that counts, for certain at least. [kPa a day]</summary>
    public double PressureRisesPerDay { get; init; } = 10;

    /// <summary>How long it must fall, in time that readings cover.</summary>
    public TimeSpan OnDelay { get; init; } = TimeSpan.FromHours(24);

    /// <summary>How long it must be flat, which itself takes two days to show.</summary>
    public TimeSpan OffDelay { get; init; } = TimeSpan.FromHours(24);

    /// <summary>A longer stretch without a judgment begins the hold anew.</summary>
    public TimeSpan GapLimit { get; init; } = TimeSpan.FromHours(12);

    /// <summary>Repeats until acknowledged or cleared.</summary>
    public RepeatSettings Repeat { get; init; } = new(TimeSpan.FromHours(12), 3);
}

/// <summary>When what was sweetened is told to be mixing still. Figures are common practice, no source.</summary>
public sealed record MixingSettings
{
    /// <summary>Whether the rule is on.</summary>
    public bool Enabled { get; init; } = true;

    /// <summary>A rise within a day that counts: more than a sensor's noise. [points]</summary>
    public double RisesPoints { get; init; } = 2;

    /// <summary>How long it must hold.</summary>
    public TimeSpan OnDelay { get; init; } = TimeSpan.FromHours(6);

    /// <summary>How long it must be even.</summary>
    public TimeSpan OffDelay { get; init; } = TimeSpan.FromHours(24);

    /// <summary>A longer stretch without a judgment begins the hold anew.</summary>
    public TimeSpan GapLimit { get; init; } = TimeSpan.FromHours(12);

    /// <summary>Said once.</summary>
    public RepeatSettings Repeat { get; init; } = new(TimeSpan.FromDays(1), 0);
}
