using System.Text.Json.Serialization;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>Phase of an alert. Stored by number: never renumber.</summary>
public enum AlertPhase
{
    /// <summary>Nothing.</summary>
    Quiet = 0,

    /// <summary>The condition holds, not for long enough yet.</summary>
    Watching = 1,

    /// <summary>The alert stands.</summary>
    Raised = 2,

    /// <summary>The alert stands, the condition is clear, not for long enough yet.</summary>
    Easing = 3,
}

/// <summary>The stored state of one rule about one subject.</summary>
/// <param name="Phase">Where it is.</param>
/// <param name="Since">When this phase was entered, or was begun again after a gap.</param>
/// <param name="LastKnown">The last point at which the condition was known; null before the first.</param>
/// <param name="IsBlind">True while the condition is unknown.</param>
/// <param name="Held">Time in this phase that samples cover.</param>
/// <param name="Samples">Samples in this phase, the one that began it included.</param>
public readonly record struct AlertState(AlertPhase Phase, RuleTime Since, RuleTime? LastKnown, bool IsBlind, TimeSpan Held, int Samples)
{
    /// <summary>Before the first sample.</summary>
    public static AlertState Start { get; }

    /// <summary>Whether the alert stands.</summary>
    [JsonIgnore]
    public bool Stands => Phase is AlertPhase.Raised or AlertPhase.Easing;

    /// <summary>The state after one more sample or tick. Points must not go back in time.</summary>
    /// <param name="now">What the sample or tick says.</param>
    /// <param name="at">When, on the rule's time line.</param>
    /// <param name="timing">Delays of the rule.</param>
    public AlertState Next(Condition now, RuleTime at, AlertTiming timing)
    {
        if (now is Condition.NotApplicable)
        {
            return Enter(AlertPhase.Quiet, at);
        }

        if (now is Condition.Unknown)
        {
            return this with { IsBlind = true };
        }

        var state = LastKnown is { } last && at - last > timing.GapLimit ? Restart(at) : Count(at);
        if (timing.Leaky && now is Condition.Between && Phase is AlertPhase.Watching && state.Phase is AlertPhase.Watching)
        {
            return Leak(state, at);
        }

        var seen = now is Condition.Between ? (state.Stands ? Condition.Holds : Condition.Clear) : now;
        return (state.Phase, seen) switch
        {
            (AlertPhase.Quiet, Condition.Holds) => Enter(timing.On.IsZero ? AlertPhase.Raised : AlertPhase.Watching, at),
            (AlertPhase.Watching, Condition.Holds) => timing.On.Met(state) ? Enter(AlertPhase.Raised, at) : state,
            (AlertPhase.Watching, Condition.Clear) => Enter(AlertPhase.Quiet, at),
            (AlertPhase.Raised, Condition.Clear) when !timing.Latched =>
                Enter(timing.Off.IsZero ? AlertPhase.Quiet : AlertPhase.Easing, at),
            (AlertPhase.Easing, Condition.Holds) => Enter(AlertPhase.Raised, at),
            (AlertPhase.Easing, Condition.Clear) => timing.Off.Met(state) ? Enter(AlertPhase.Quiet, at) : state,
            _ => state,
        };
    }

    private static AlertState Enter(AlertPhase phase, RuleTime at) => new(phase, at, at, IsBlind: false, TimeSpan.Zero, Samples: 1);

    /// <summary>Time between the limits is taken off what was held; when nothing is left, the watch is over.</summary>
    private AlertState Leak(AlertState counted, RuleTime at)
    {
        var left = Held - (counted.Held - Held);
        return left > TimeSpan.Zero ? counted with { Held = left } : Enter(AlertPhase.Quiet, at);
    }

    // The sample after a gap is the first of a new hold.
    private AlertState Restart(RuleTime at) => Enter(Phase, at);

    private AlertState Count(RuleTime at) => this with
    {
        LastKnown = at,
        IsBlind = false,
        Held = LastKnown is { } last && !IsBlind ? Held + (at - last) : Held,
        Samples = Samples + 1,
    };
}
