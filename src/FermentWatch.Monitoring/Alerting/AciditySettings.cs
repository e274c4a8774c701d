namespace FermentWatch.Monitoring.Alerting;

/// <summary>When a low pH of a ferment is an alert. Figures are common practice, no source.</summary>
public sealed record AciditySettings
{
    /// <summary>Whether the rule is on.</summary>
    public bool Enabled { get; init; } = true;

    /// <summary>pH below which it holds.</summary>
    public double Below { get; init; } = 3.2;

    /// <summary>pH below which it is urgent in a mead that works: honey buffers little, and its yeast stops.</summary>
    public double UrgentBelow { get; init; } = 3.0;

    /// <summary>pH above which it is clear.</summary>
    public double ClearAbove { get; init; } = 3.25;

    /// <summary>Samples of a sensor that it needs; a reading by hand counts alone. At least 1.</summary>
    public int OnSamples { get; init; } = 2;

    /// <summary>How long a sensor must read clear.</summary>
    public TimeSpan OffDelay { get; init; } = TimeSpan.FromHours(6);

    /// <summary>Fall within <see cref="WorksWithin"/> from which a ferment counts as at work. [points]</summary>
    public double WorksPoints { get; init; } = 2;

    /// <summary>Time over which that fall is looked for.</summary>
    public TimeSpan WorksWithin { get; init; } = TimeSpan.FromHours(48);

    /// <summary>Repeats until acknowledged or cleared.</summary>
    public RepeatSettings Repeat { get; init; } = new(TimeSpan.FromHours(24), 2);
}
