namespace FermentWatch.Monitoring.Alerting;

/// <summary>When a temperature endangers the yeast or the glass. Figures are common practice, no source.</summary>
public sealed record TemperatureDangerSettings
{
    /// <summary>Whether the rule is on.</summary>
    public bool Enabled { get; init; } = true;

    /// <summary>From here on a ferment is in danger. [°C]</summary>
    public double HotCelsius { get; init; } = 32;

    /// <summary>So much earlier when it rises fast. [°C]</summary>
    public double EarlierCelsius { get; init; } = 1;

    /// <summary>What counts as fast. [°C/h]</summary>
    public double FastRisePerHour { get; init; } = 0.5;

    /// <summary>From here down a full glass vessel is in danger, in any stage. [°C]</summary>
    public double FreezingCelsius { get; init; } = -1;

    /// <summary>How far back clears it. [°C]</summary>
    public double ClearMarginCelsius { get; init; } = 0.5;

    /// <summary>A larger step from one sample to the next waits for another sample. [°C]</summary>
    public double LargestStepCelsius { get; init; } = 10;

    /// <summary>On-delay; none for a sensor slower than <see cref="SlowInterval"/>.</summary>
    public TimeSpan OnDelay { get; init; } = TimeSpan.FromMinutes(10);

    /// <summary>Samples that the on-delay needs as well.</summary>
    public int OnSamples { get; init; } = 2;

    /// <summary>A sensor with a longer interval raises at once.</summary>
    public TimeSpan SlowInterval { get; init; } = TimeSpan.FromMinutes(15);

    /// <summary>How long it must stay back.</summary>
    public TimeSpan OffDelay { get; init; } = TimeSpan.FromMinutes(30);

    /// <summary>Repeats until acknowledged or cleared.</summary>
    public RepeatSettings Repeat { get; init; } = new(TimeSpan.FromMinutes(30), 3) { ThenEvery = TimeSpan.FromHours(2) };
}

/// <summary>When a fall of the liquid's temperature may stop the yeast. Figures are common practice, no source.</summary>
public sealed record TemperatureDropSettings
{
    /// <summary>Whether the rule is on.</summary>
    public bool Enabled { get; init; } = true;

    /// <summary>Fall that counts. [°C]</summary>
    public double DropCelsius { get; init; } = 5;

    /// <summary>Time within which it counts.</summary>
    public TimeSpan Within { get; init; } = TimeSpan.FromHours(12);

    /// <summary>Rise from the lowest point that ends it. [°C]</summary>
    public double RiseCelsius { get; init; } = 1;

    /// <summary>On-delay.</summary>
    public TimeSpan OnDelay { get; init; } = TimeSpan.FromHours(1);

    /// <summary>How long it must be over.</summary>
    public TimeSpan OffDelay { get; init; } = TimeSpan.FromHours(6);

    /// <summary>Said once.</summary>
    public RepeatSettings Repeat { get; init; } = new(TimeSpan.FromHours(24), 0);
}

/// <summary>When a ferment that has not begun is an alert. Figures are common practice, no source.</summary>
public sealed record NoStartSettings
{
    /// <summary>Whether the rule is on.</summary>
    public bool Enabled { get; init; } = true;

    /// <summary>Time since the inoculation of wine or cider.</summary>
    public TimeSpan Wait { get; init; } = TimeSpan.FromHours(72);

    /// <summary>Time since the inoculation of mead.</summary>
    public TimeSpan MeadWait { get; init; } = TimeSpan.FromHours(96);

    /// <summary>Fall that counts as a start. [points]</summary>
    public double FallPoints { get; init; } = 2;

    /// <summary>Gas pulses that show a ferment at work, as the median over <see cref="ActiveWithin"/>. [a minute]</summary>
    public double ActivePulses { get; init; } = 1;

    /// <summary>Time over which they are counted.</summary>
    public TimeSpan ActiveWithin { get; init; } = TimeSpan.FromHours(6);

    /// <summary>How long the fall must last.</summary>
    public TimeSpan OffDelay { get; init; } = TimeSpan.FromHours(6);

    /// <summary>Repeats until acknowledged or cleared.</summary>
    public RepeatSettings Repeat { get; init; } = new(TimeSpan.FromHours(24), 2);
}
