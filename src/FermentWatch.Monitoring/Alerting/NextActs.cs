using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>Something to do next that has a date, with the words of its notice on that day.</summary>
/// <param name="Rule">Id of the rule that will tell of it.</param>
/// <param name="Subject">Which one: a lower-case word.</param>
/// <param name="DueAt">When it is due; may lie ahead or have passed.</param>
/// <param name="Words">What the notice will say.</param>
public sealed record NextAct(string Rule, string Subject, EventTime DueAt, NoticeWords Words);

/// <summary>The dated next acts of a batch: waits that end, the sentinel's days, care.</summary>
public static class NextActs
{
    /// <summary>Those that the journal has not answered, by date.</summary>
    /// <param name="view">The batch.</param>
    /// <param name="settings">Lengths of the waits.</param>
    public static IReadOnlyList<NextAct> Of(BatchView view, AlertSettings settings)
    {
        ArgumentNullException.ThrowIfNull(view);
        ArgumentNullException.ThrowIfNull(settings);
        IEnumerable<(string Rule, IEnumerable<Duty> Duties)> open =
        [
            (WaitingOverRule.Id, WaitingOverRule.Open(view, settings.Waiting)),
            (SentinelDueRule.Id, SentinelDueRule.Open(view, settings.Sentinel)),
            (CareDueRule.Id, CareDueRule.Open(view, settings.Care)),
        ];
        return [.. open.SelectMany(one => one.Duties.Select(duty => Act(one.Rule, duty, view))).OrderBy(act => act.DueAt).ThenBy(act => act.Rule, StringComparer.Ordinal)];
    }

    /// <summary>The same with the next part of nutrient: the overview words that by itself.</summary>
    /// <param name="view">The batch.</param>
    /// <param name="settings">Lengths of the waits.</param>
    /// <param name="byGravity">Its date where gravity tells it, as it is shown; null where the clock does, or nothing can be told.</param>
    public static IReadOnlyList<NextAct> WithNutrient(BatchView view, AlertSettings settings, NutrientDate? byGravity)
    {
        var acts = Of(view, settings);
        var part = byGravity is null ? NutrientDueRule.ByTheClock(view) : NutrientDueRule.DutyOf(byGravity);
        return settings.Nutrient.Enabled && part is not null ? [.. acts.Append(Act(NutrientDueRule.Id, part, view)).OrderBy(act => act.DueAt)] : acts;
    }

    private static NextAct Act(string rule, Duty duty, BatchView view)
    {
        var key = $"{view.Batch.Id}/{rule}/{duty.Subject}";
        var episode = new AlertEpisode(rule, duty.Subject, Severity.Action, duty.DueAt, duty.DueAt, ClearedAt: null, duty.Because);
        var alert = new TrackedAlert(
            key, rule, duty.Subject, Severity.Action, duty.DueAt, duty.DueAt, ClearedAt: null, AlertStanding.Raised, Told: null, ToldAt: null,
            TimeSpan.Zero, StateNumber: 1, Repeats: 0, AcknowledgedAt: null, key, duty.Because);
        var due = ReceivedAt.From(duty.DueAt.ToDateTimeOffset());
        var about = new NoticeSubject(TransitionKind.Raised, [(view, new AlertTransition(TransitionKind.Raised, alert, episode))], Sensors: 0, InThread: 1, IsEverything: false, due);
        return new NextAct(rule, duty.Subject, duty.DueAt, AlertRuleCatalog.Named(rule).Words(about));
    }
}
