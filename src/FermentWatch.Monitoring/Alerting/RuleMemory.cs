using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>What a rule remembers of the judgments that it saw: one for each line of the forecast.</summary>
/// <param name="Rule">Id of the rule.</param>
/// <param name="State">Its state in the machine, on event time.</param>
/// <param name="Line">The newest line of the forecast that was counted; null before any.</param>
/// <param name="BeganAt">When the condition began to hold; null while it does not.</param>
/// <param name="Level">Gravity when it was raised, as a ratio; null while it does not stand.</param>
public sealed record RuleMemory(string Rule, AlertState State, EventTime? Line, EventTime? BeganAt, double? Level)
{
    /// <summary>The forecast that is the measure of later ones; null for rules about anything else.</summary>
    public ForecastAnchor? Anchor { get; init; }

    /// <summary>The reading by hand that raised it, as a ratio; null where something else did.</summary>
    public double? ByHand { get; init; }

    /// <summary>Nothing seen yet.</summary>
    public static RuleMemory Empty(string rule) => new(rule, AlertState.Start, null, null, null);

    /// <summary>The memory after one more look at the batch. A line that was counted counts once; a deed that makes the rule not apply counts at once.</summary>
    public RuleMemory Move(BatchView view, Condition condition, AlertTiming timing)
    {
        var line = view.Forecast?.AsOf ?? view.Now;
        var isIdle = State.Phase is AlertPhase.Quiet && condition is Condition.NotApplicable;
        if (isIdle || (condition is not Condition.NotApplicable && Line is { } counted && line <= counted))
        {
            return this;
        }

        var next = State.Next(condition, RuleTime.Of(line), timing);
        // What can't be judged leaves no mark but that it could not be judged.
        return condition is Condition.Unknown ? this with { State = next } : this with
        {
            State = next,
            Line = line,
            BeganAt = next.Phase is AlertPhase.Quiet ? null : State.Phase is AlertPhase.Quiet ? line : BeganAt,
            Level = !next.Stands ? null : State.Stands ? Level : view.LatestGravity?.Value.Value,
        };
    }

    /// <summary>Raised at once by a reading by hand, which is given as a ratio, beside the level that it contradicts.</summary>
    public RuleMemory Raise(BatchView view, double byHand, double level) => Empty(Rule) with
    {
        State = AlertState.Start.Next(Condition.Holds, RuleTime.Of(view.Now), new AlertTiming(Hold.None, Hold.None, TimeSpan.MaxValue)),
        Line = view.Forecast?.AsOf ?? view.Now,
        BeganAt = view.Now,
        Level = level,
        ByHand = byHand,
    };

    /// <summary>Begins anew after this line.</summary>
    public RuleMemory Reset(BatchView view) => Empty(Rule) with { Line = view.Forecast?.AsOf ?? view.Now };
}

/// <summary>A forecast as later ones are compared with it.</summary>
/// <param name="Finish">When it was likely to end.</param>
/// <param name="End">Gravity at which it was likely to end, as a ratio.</param>
/// <param name="Low">Lower end of the 9-in-10 range, as a ratio.</param>
/// <param name="High">Upper end of it, as a ratio.</param>
public sealed record ForecastAnchor(EventTime Finish, double End, double Low, double High);
