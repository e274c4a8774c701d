namespace FermentWatch.Monitoring.Alerting;

/// <summary>When a jump of gravity that nobody wrote down is asked about. Figures are common practice, no source.</summary>
public sealed record StepSettings
{
    /// <summary>Whether the rule is on.</summary>
    public bool Enabled { get; init; } = true;

    /// <summary>A jump that goes back within this is foam or stirring.</summary>
    public TimeSpan Returns { get; init; } = TimeSpan.FromHours(6);

    /// <summary>How long before it an entry may lie that answers it.</summary>
    public TimeSpan Early { get; init; } = TimeSpan.FromHours(12);

    /// <summary>After this the question is no longer asked.</summary>
    public TimeSpan Forget { get; init; } = TimeSpan.FromDays(3);

    /// <summary>Asked once.</summary>
    public RepeatSettings Repeat { get; init; } = new(TimeSpan.FromDays(1), 0);
}
