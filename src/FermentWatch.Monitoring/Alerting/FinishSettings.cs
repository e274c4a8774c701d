namespace FermentWatch.Monitoring.Alerting;

/// <summary>When a ferment that rests before its end is an alert. Figures are common practice, no source.</summary>
public sealed record StuckSettings
{
    /// <summary>Whether the rule is on.</summary>
    public bool Enabled { get; init; } = true;

    /// <summary>Odds of being stuck from which it holds. Chosen on replays: at 0.9 one stuck ferment in six was never told, at 0.7 one in ten (README.md here).</summary>
    public double RaiseAt { get; init; } = 0.50;

    /// <summary>Odds below which it is clear. The pages speak of stuck a little earlier, from <see cref="Forecasting.StopJudge.StuckFrom"/>: a look costs less than a notice.</summary>
    public double ClearBelow { get; init; } = 0.35;

    /// <summary>How long it must hold, in time that readings cover.</summary>
    public TimeSpan OnDelay { get; init; } = TimeSpan.FromHours(12);

    /// <summary>How long it must be clear.</summary>
    public TimeSpan OffDelay { get; init; } = TimeSpan.FromHours(12);

    /// <summary>How long racking, feeding or fresh yeast keep it silent.</summary>
    public TimeSpan AfterHandling { get; init; } = TimeSpan.FromHours(24);

    /// <summary>A longer stretch without a judgment begins the hold anew.</summary>
    public TimeSpan GapLimit { get; init; } = TimeSpan.FromHours(12);

    /// <summary>Repeats until acknowledged or cleared.</summary>
    public RepeatSettings Repeat { get; init; } = new(TimeSpan.FromHours(48), 3);
}

/// <summary>When a ferment that has come to its end is told, and taken back. Figures are common practice, no source.</summary>
public sealed record ReadySettings
{
    /// <summary>Whether the rule is on.</summary>
    public bool Enabled { get; init; } = true;

    /// <summary>Odds of being finished from which it holds.</summary>
    public double RaiseAt { get; init; } = 0.90;

    /// <summary>Odds of being stuck that forbid it.</summary>
    public double NotStuckBelow { get; init; } = 0.10;

    /// <summary>How long it must hold, in time that readings cover.</summary>
    public TimeSpan OnDelay { get; init; } = TimeSpan.FromHours(24);

    /// <summary>How long a fall must last that takes it back.</summary>
    public TimeSpan WithdrawDelay { get; init; } = TimeSpan.FromHours(12);

    /// <summary>A fall below the level at which it was said that counts as falling again. [points]</summary>
    public double FallsPoints { get; init; } = 2;

    /// <summary>A hand reading so far below the level at which it was said takes it back at once, and so far above it where the ferment is no longer judged finished. [points]</summary>
    public double HandDisagreesPoints { get; init; } = 2;

    /// <summary>A hand reading so far above it takes it back at once, whatever the sensor says: the two never differ by so much. [points]</summary>
    public double HandFarAbovePoints { get; init; } = 6;

    /// <summary>A longer stretch without a judgment begins the hold anew.</summary>
    public TimeSpan GapLimit { get; init; } = TimeSpan.FromHours(12);

    /// <summary>Once more after a week.</summary>
    public RepeatSettings Repeat { get; init; } = new(TimeSpan.FromDays(7), 1);

    /// <summary>Repeats of the withdrawal until acknowledged.</summary>
    public RepeatSettings WithdrawnRepeat { get; init; } = new(TimeSpan.FromHours(12), 2);
}
