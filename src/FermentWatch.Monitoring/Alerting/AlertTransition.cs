using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>What changed about an alert.</summary>
public enum TransitionKind
{
    /// <summary>To be told: it lasts.</summary>
    Raised = 1,

    /// <summary>To be told again: it still lasts and nobody acknowledged it.</summary>
    Repeated = 2,

    /// <summary>It was told as raised and is over: a silent all-clear.</summary>
    Cleared = 3,

    /// <summary>It was told as raised and never was: to be told aloud.</summary>
    Withdrawn = 4,

    /// <summary>It was over before we learned of it: counted in one summary.</summary>
    FoundInPast = 5,

    /// <summary>It ended before anything was told: counted, never told.</summary>
    Fleeting = 6,
}

/// <summary>A change that this pass made.</summary>
/// <param name="Kind">What changed.</param>
/// <param name="Alert">The alert after the change; its state number is that of the notice.</param>
/// <param name="Episode">The episode as the facts show it now; null when there is none any more.</param>
/// <param name="MayBeUnsent">True when the notice before this one can still be waiting for its group.</param>
public sealed record AlertTransition(TransitionKind Kind, TrackedAlert Alert, AlertEpisode? Episode, bool MayBeUnsent = false)
{
    /// <summary>Evidence of an alert that yields to this one and is told with it; null for none.</summary>
    public Reason? Also { get; init; }

    /// <summary>Whether that is told for the first time.</summary>
    public bool IsAlsoNews { get; init; }

    /// <summary>Why a rule on ticks ended it; null for anything else.</summary>
    public Reason? EndedBecause { get; init; }
}

/// <summary>The outcome of a pass over one batch.</summary>
/// <param name="Now">The set after the pass.</param>
/// <param name="Transitions">What changed, to be planned into notices and stored in the same transaction.</param>
/// <param name="MustStore">False when only running timers moved: then the set need not be written this time.</param>
public sealed record StepResult(AlertSet Now, ValueList<AlertTransition> Transitions, bool MustStore);
