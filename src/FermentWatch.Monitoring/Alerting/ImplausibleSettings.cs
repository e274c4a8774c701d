namespace FermentWatch.Monitoring.Alerting;

/// <summary>When a sensor whose readings are set aside is an alert. Figures are common practice, no source.</summary>
public sealed record ImplausibleSettings
{
    /// <summary>Whether the rule is on.</summary>
    public bool Enabled { get; init; } = true;

    /// <summary>How many of the newest readings are looked at; it clears once none of them was set aside. At least 1.</summary>
    public int Of { get; init; } = 10;

    /// <summary>How many of them must be set aside; 1 to <see cref="Of"/>.</summary>
    public int SetAside { get; init; } = 3;

    /// <summary>On-delay and off-delay, in intervals of the sensor; the longer of this and <see cref="DelayAtLeast"/> counts.</summary>
    public double DelayIntervals { get; init; } = 3;

    /// <summary>Shortest on-delay and off-delay: a few bad readings of a sensor that sends every minute ask for nothing.</summary>
    public TimeSpan DelayAtLeast { get; init; } = TimeSpan.FromHours(1);

    /// <summary>Repeats until acknowledged or cleared.</summary>
    public RepeatSettings Repeat { get; init; } = new(TimeSpan.FromHours(48), 3);
}
