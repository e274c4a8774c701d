using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>
/// <c>stuck</c>, <c>ready-to-stabilize</c> and <c>ready-withdrawn</c>: what the judgment of the end says, once it has said so for long
/// enough. The subject is the batch. Each line of the forecast is one sample; holds count event time between lines, and a line between the limits takes its time off
/// what was held instead of beginning anew.
/// </summary>
/// <remarks>What a judgment said is remembered in the set: late readings that change it change what follows, and a 'ready' that was told
/// and proves wrong is withdrawn aloud. Delays are common practice, no source.</remarks>
public static class FinishRules
{
    /// <summary>Id of the rule about a ferment that rests before its end.</summary>
    public const string StuckId = "stuck";

    /// <summary>Id of the rule about a ferment that has come to its end.</summary>
    public const string ReadyId = "ready-to-stabilize";

    /// <summary>Id of the rule that takes a 'ready' back.</summary>
    public const string WithdrawnId = "ready-withdrawn";

    // So far from a hand reading the sensor may have been heard.
    private static readonly TimeSpan HandReach = TimeSpan.FromHours(6);

    /// <summary>The catalogue's entry for a ferment that rests before its end.</summary>
    public static AlertRule Stuck { get; } = new(StuckId, settings => settings.Stuck.Repeat, OnSamples: null, StuckTick, FinishNotices.Stuck);

    /// <summary>The catalogue's entry for a ferment that has come to its end.</summary>
    public static AlertRule Ready { get; } = new(ReadyId, settings => settings.Ready.Repeat, OnSamples: null, ReadyTick, FinishNotices.Ready);

    /// <summary>The catalogue's entry that takes a 'ready' back; it stands after <see cref="Ready"/> in the catalogue.</summary>
    public static AlertRule Withdrawn { get; } = new(WithdrawnId, settings => settings.Ready.WithdrawnRepeat, OnSamples: null, WithdrawnTick, FinishNotices.Withdrawn);

    private static TickResult StuckTick(AlertSet was, BatchView view, AlertSettings settings, Pass pass)
    {
        var limits = settings.Stuck;
        var before = was.Memory(StuckId);
        var moved = before.Move(view, StuckCondition(view, limits), new AlertTiming(new Hold(limits.OnDelay, 2), new Hold(limits.OffDelay, 0), limits.GapLimit, Leaky: true));
        var standing = moved.State.Stands ? new[] { Episode(StuckId, Severity.Warning, moved, view, StuckBecause(view)) } : [];
        return new TickResult(was.Remember(moved), standing, Ended(before, moved, view, "stuck-over"));
    }

    private static Condition StuckCondition(BatchView view, StuckSettings limits)
    {
        if (!limits.Enabled || !IsFermenting(view))
        {
            return Condition.NotApplicable;
        }

        if (view.Phase.Phase is Phase.Unknown || view.Forecast is null)
        {
            return Condition.Unknown;
        }

        return view.Stop.Stuck >= limits.RaiseAt ? Condition.Holds : view.Stop.Stuck < limits.ClearBelow ? Condition.Clear : Condition.Between;
    }

    private static TickResult ReadyTick(AlertSet was, BatchView view, AlertSettings settings, Pass pass)
    {
        var limits = settings.Ready;
        var before = was.Memory(ReadyId);
        var hasMore = before.State.Stands && LastEvent(view, JournalKind.SugarAdded, JournalKind.Repitched) > before.State.Since.ToEventTime();
        var isDone = !limits.Enabled || hasMore || LastEvent(view, JournalKind.Stabilized, JournalKind.Sweetened, JournalKind.Bottled) is not null;
        var moved = before.Move(
            view, ReadyCondition(view, limits, isDone), new AlertTiming(new Hold(limits.OnDelay, 2), Hold.None, limits.GapLimit, Latched: true, Leaky: true));
        var set = was.Remember(moved);
        if (moved.State.Stands && Disproof(before, view, limits, was.Memory(WithdrawnId)) is var (doubt, hasDisproved))
        {
            set = set.Remember(doubt);
            if (hasDisproved)
            {
                return new TickResult(set.Remember(before.Reset(view)), [], new Dictionary<string, Reason> { [view.Batch.Id.Value] = Reason.Of("ready-was-wrong") });
            }
        }

        var standing = moved.State.Stands ? new[] { Episode(ReadyId, Severity.Action, moved, view, ReadyBecause(view)) } : [];
        return new TickResult(set, standing, Ended(before, moved, view, hasMore ? "ready-fed" : "ready-done"));
    }

    private static Condition ReadyCondition(BatchView view, ReadySettings limits, bool isDone) =>
        isDone ? Condition.NotApplicable
        : view.Phase.Phase is Phase.Unknown || view.Forecast is null ? Condition.Unknown
        : view.Stop.Finished < limits.RaiseAt || view.Stop.Stuck >= limits.NotStuckBelow || IsContradicted(view, limits) ? Condition.Clear
        // Finished, and only the evidence of rest is short of what 'ready' wants: that is no reason to begin the hold anew.
        : view.Stop.IsReadyToStabilize ? Condition.Holds : Condition.Between;

    /// <summary>What speaks against a 'ready' that stands: a fall that lasts, or at once a hand reading that disagrees with the level at which it was said.</summary>
    private static (RuleMemory Doubt, bool HasDisproved)? Disproof(RuleMemory ready, BatchView view, ReadySettings limits, RuleMemory doubt)
    {
        if (ready.Level is { } level
            && view.Events.LastOrDefault(one => one.Kind == JournalKind.MeasuredByHand && one.At > ready.State.Since.ToEventTime()) is { } hand
            && hand.What.Values.OfType<ReasonValue.Gravity>().FirstOrDefault() is { } measured
            && Disagrees((measured.Ratio - level) * 1000, view, limits))
        {
            return (doubt.Raise(view, measured.Ratio, level), true);
        }

        // A slope takes days to be shown; a level that was left behind does not.
        var isFalling = (view.Phase is { Phase: Phase.Active or Phase.Slowing, RatePerDay: > 0.0008 } && view.Stop.Resting <= 0)
            || (ready.Level is { } told && view.LatestGravity is { } latest && (told - latest.Value.Value) * 1000 > limits.FallsPoints);
        var condition = view.Phase.Phase is Phase.Unknown ? Condition.Unknown : isFalling ? Condition.Holds : Condition.Clear;
        var moved = doubt.Move(view, condition, new AlertTiming(new Hold(limits.WithdrawDelay, 2), Hold.None, limits.GapLimit, Latched: true));
        return (moved, moved.State.Stands && !doubt.State.Stands);
    }

    /// <summary>
    /// A sample that reads lower went on falling. A sensor without calibration, or gas in the sample, makes one read somewhat higher: that counts where the
    /// ferment is not judged finished any more, and in any case where the sensor must be wrong.
    /// </summary>
    private static bool Disagrees(double pointsAbove, BatchView view, ReadySettings limits) =>
        -pointsAbove > limits.HandDisagreesPoints
        || pointsAbove > limits.HandFarAbovePoints
        || (pointsAbove > limits.HandDisagreesPoints && ReadyCondition(view, limits, isDone: false) is Condition.Clear);

    /// <summary>Whether the newest sample that was measured by hand at this level reads far higher: then nobody knows where it rests, until another one agrees or the sensor is calibrated.</summary>
    private static bool IsContradicted(BatchView view, ReadySettings limits)
    {
        if (view.LatestGravity is not { } latest || view.Gravity.Count == 0
            || view.Journal.LastOrDefault(entry => entry is { Kind: JournalKind.MeasuredByHand, Gravity: not null } && entry.At <= view.Now) is not { Gravity: { } hand } taken)
        {
            return false;
        }

        var beside = view.Gravity.MinBy(point => (point.At - taken.At).Duration());
        return (beside.At - taken.At).Duration() <= HandReach
            && Math.Abs(beside.Gravity.Points - latest.Value.Points) <= limits.HandDisagreesPoints
            && hand.Points - beside.Gravity.Points > limits.HandFarAbovePoints;
    }

    /// <summary>Stands from the withdrawal until somebody acknowledges it.</summary>
    private static TickResult WithdrawnTick(AlertSet was, BatchView view, AlertSettings settings, Pass pass)
    {
        var memory = was.Memory(WithdrawnId);
        if (!memory.State.Stands)
        {
            return new TickResult(was, [], new Dictionary<string, Reason>());
        }

        if (was.Alerts.Any(alert => alert is { Rule: WithdrawnId, Standing: AlertStanding.Raised, AcknowledgedAt: not null }))
        {
            return new TickResult(was.Remember(memory.Reset(view)), [], new Dictionary<string, Reason> { [view.Batch.Id.Value] = Reason.Of("alert-ended") });
        }

        var because = memory is { ByHand: { } measured, Level: { } level }
            ? Reason.Of("ready-hand-disagrees", new ReasonValue.Gravity(measured), new ReasonValue.Gravity(level))
            : Reason.Of("ready-was-wrong-now", new ReasonValue.Gravity(view.LatestGravity?.Value.Value ?? 1), new ReasonValue.Moment(memory.State.Since.ToEventTime()));
        return new TickResult(was, [Episode(WithdrawnId, Severity.Warning, memory, view, because)], new Dictionary<string, Reason>());
    }

    private static AlertEpisode Episode(string rule, Severity severity, RuleMemory memory, BatchView view, Reason because) => new(
        rule, view.Batch.Id.Value, severity, memory.BeganAt ?? memory.State.Since.ToEventTime(), memory.State.Since.ToEventTime(), ClearedAt: null, because)
    {
        EvidenceAt = view.Now,
        IsEasing = memory.State.Phase is AlertPhase.Easing,
    };

    private static Dictionary<string, Reason> Ended(RuleMemory before, RuleMemory moved, BatchView view, string code) => before.State.Stands && !moved.State.Stands
        ? new Dictionary<string, Reason> { [view.Batch.Id.Value] = Reason.Of(code, new ReasonValue.Moment(view.Now)) }
        : [];

    private static Reason StuckBecause(BatchView view) => Reason.Of(
        "stuck-" + view.Stop.Cause switch { StopCause.Cold => "cold", StopCause.Hot => "hot", StopCause.Nitrogen => "nitrogen", StopCause.Tolerance => "tolerance", _ => "unknown" },
        new ReasonValue.Gravity(view.LatestGravity?.Value.Value ?? 1),
        new ReasonValue.Odds(view.Stop.Stuck));

    private static Reason ReadyBecause(BatchView view) => Reason.Of(
        "ready-rests", new ReasonValue.Gravity(view.LatestGravity?.Value.Value ?? 1), new ReasonValue.Odds(view.Stop.Finished));

    private static bool IsFermenting(BatchView view) => view.Stage is not { } stage || stage.Stage is BatchStage.Fermenting;

    private static EventTime? LastEvent(BatchView view, params ReadOnlySpan<JournalKind> kinds)
    {
        EventTime? last = null;
        foreach (var one in view.Events)
        {
            last = one.Kind is { } kind && kinds.Contains(kind) ? one.At : last;
        }

        return last;
    }
}
