using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>How long what was added is waited for. Figures are common practice, no source.</summary>
public sealed record WaitingSettings
{
    /// <summary>Whether the rule is on.</summary>
    public bool Enabled { get; init; } = true;

    /// <summary>From tannin to the next tasting.</summary>
    public TimeSpan Tannin { get; init; } = TimeSpan.FromDays(14);

    /// <summary>From a fining agent to racking.</summary>
    public TimeSpan Fining { get; init; } = TimeSpan.FromDays(10);

    /// <summary>From a cold crash to racking off what settled.</summary>
    public TimeSpan Clarification { get; init; } = TimeSpan.FromDays(7);

    /// <summary>From stabilizing to sweetening.</summary>
    public TimeSpan Stabilized { get; init; } = TimeSpan.FromDays(2);

    /// <summary>From sweetening to bottling.</summary>
    public TimeSpan Sweetened { get; init; } = TimeSpan.FromDays(14);

    /// <summary>Repeats until acknowledged or cleared.</summary>
    public RepeatSettings Repeat { get; init; } = new(TimeSpan.FromDays(7), 2);
}

/// <summary>When the sentinel bottle is looked at. Figures are common practice, no source.</summary>
public sealed record SentinelSettings
{
    /// <summary>Whether the rule is on.</summary>
    public bool Enabled { get; init; } = true;

    /// <summary>Days after bottling, rising.</summary>
    public ValueList<int> Days { get; init; } = ValueList.Of(3, 7, 14, 30, 60);

    /// <summary>A day as warm as this asks for a look of its own. [°C]</summary>
    public double HotCelsius { get; init; } = 26;

    /// <summary>How long before its day a look counts for it.</summary>
    public TimeSpan Early { get; init; } = TimeSpan.FromHours(12);

    /// <summary>Repeats until acknowledged or cleared.</summary>
    public RepeatSettings Repeat { get; init; } = new(TimeSpan.FromHours(24), 2);
}

/// <summary>How often wine that ages in bulk is cared for. Figures are common practice, no source.</summary>
public sealed record CareSettings
{
    /// <summary>Whether the rule is on.</summary>
    public bool Enabled { get; init; } = true;

    /// <summary>From one refill of the airlock to the next.</summary>
    public TimeSpan Airlock { get; init; } = TimeSpan.FromDays(21);

    /// <summary>From one measurement of free sulfite to the next.</summary>
    public TimeSpan FreeSulfite { get; init; } = TimeSpan.FromDays(49);

    /// <summary>From one topping up to the next.</summary>
    public TimeSpan TopUp { get; init; } = TimeSpan.FromDays(30);

    /// <summary>From the end of the ferment to racking off gross or fruit lees, as of wine and cider.</summary>
    public TimeSpan GrossLees { get; init; } = TimeSpan.FromDays(14);

    /// <summary>The same off the clean lees of a mead without fruit.</summary>
    public TimeSpan CleanLees { get; init; } = TimeSpan.FromDays(28);

    /// <summary>From one tasting to the next while oak is in.</summary>
    public TimeSpan Oak { get; init; } = TimeSpan.FromDays(7);

    /// <summary>Repeats until acknowledged or cleared.</summary>
    public RepeatSettings Repeat { get; init; } = new(TimeSpan.FromDays(7), 2);
}
