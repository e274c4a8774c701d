using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>What a pass puts into the outbox, in the transaction that stores its sets.</summary>
/// <param name="Drafts">New rows.</param>
/// <param name="Canceled">Keys of rows that are overtaken: those still waiting must not be sent any more. Most of them exist no longer, or never did.</param>
/// <param name="Ledger">What was planned for whom, this pass included; to be stored in the same transaction.</param>
public sealed record NoticePlan(ValueList<OutboxDraft> Drafts, ValueList<string> Canceled, NoticeLedger Ledger)
{
    /// <summary>Plans the notices for one batch.</summary>
    public static NoticePlan For(BatchView view, StepResult result, AlertSettings settings, Pass pass, NoticeLedger? ledger = null) =>
        For([(view, result)], settings, pass, ledger);

    /// <summary>
    /// Plans the notices of a pass over all batches, for each listener: what shares a thread or comes together goes into one, what is too
    /// much waits for the digest, what people dealt with or what ended is taken out of what still waits.
    /// </summary>
    /// <param name="batches">View and result of each batch of the pass.</param>
    /// <param name="settings">Listeners and limits.</param>
    /// <param name="pass">The present.</param>
    /// <param name="ledger">What the last pass left, from disk; null when nothing was kept yet.</param>
    /// <param name="ofService">Alerts of the service that live in the digest, see <see cref="Services.ServiceAlerts.Lasting"/>.</param>
    public static NoticePlan For(
        IReadOnlyList<(BatchView View, StepResult Result)> batches, AlertSettings settings, Pass pass, NoticeLedger? ledger = null, IReadOnlyList<NoticeLine>? ofService = null)
    {
        var was = ledger ?? NoticeLedger.Empty;
        var views = batches.ToDictionary(batch => batch.View.Batch.Id, batch => batch.View);
        var alerts = batches.SelectMany(batch => batch.Result.Now.Alerts).DistinctBy(alert => alert.Key).ToDictionary(alert => alert.Key);
        var units = NoticeUnits.Of(batches, pass);
        var lasting = pass.ClockTrusted ? NoticeUnits.Lasting(batches, settings, pass) : [];
        var untaken = NoticeUnits.Untaken(batches, settings, pass);
        var (absence, back) = AbsenceNotice.Move(was, batches, units, settings, pass);
        var drafts = new List<OutboxDraft>();
        var canceled = units.SelectMany(unit => unit.Members).SelectMany(part => Overtaken(part.Transition.Alert, settings)).ToHashSet(StringComparer.Ordinal);
        var listeners = new List<ListenerLedger>();
        foreach (var listener in settings.Listeners)
        {
            var planner = new ListenerPlanner(listener, was.Of(listener.Name), settings, pass);
            if (was.SeenAt is null && was.Listeners.Count == 0)
            {
                planner.Seed(ToldBefore(batches));
            }

            planner.Drop(key => !alerts.TryGetValue(key, out var alert) || alert.IsDealtWith());
            foreach (var unit in units.Where(unit => IsFor(listener, unit, planner, settings, pass)))
            {
                if (absence is null || unit.Line.Kind is not TransitionKind.FoundInPast)
                {
                    planner.Take(unit.Line, unit.FoundAtNight);
                }
            }

            if (settings.Seconds.Contains(listener.Name))
            {
                untaken.Where(one => !one.Alerts.Any(planner.Knows)).ToList().ForEach(one => planner.Take(one));
            }

            if (back is { } line)
            {
                planner.Add($"{line.Alerts[0]}@{listener.Name}", NoticeManner.Away, listener.Due(line.Kind, line.Severity, settings, pass), [line]);
            }

            var day = planner.Digest([.. lasting.Where(one => listener.Wants(one.Rule, one.Batch)), .. (ofService ?? []).Where(one => !listener.WithoutRules.Contains(one.Rule))]);
            listeners.Add(planner.Ledger(key => alerts.TryGetValue(key, out var alert) && alert.Standing is AlertStanding.Raised, day));
            var rows = planner.Rows(views);
            drafts.AddRange(rows.Drafts);
            canceled.UnionWith(rows.Canceled);
        }

        canceled.ExceptWith(drafts.Select(draft => draft.Key));
        var now = new NoticeLedger
        {
            Listeners = ValueList.Of(was.Listeners.Where(one => listeners.TrueForAll(other => other.Channel != one.Channel)).Concat(listeners)),
            SeenAt = pass.ClockTrusted ? pass.Now : was.SeenAt,
            Absence = absence,
        };
        return new NoticePlan(ValueList.Of(drafts), ValueList.Of(canceled.Order(StringComparer.Ordinal)), now);
    }

    /// <summary>What somebody wants to hear; and, for who helps, what is urgent. Who was told of an alert is told of its end.</summary>
    private static bool IsFor(PersonalChannel listener, NoticeUnit unit, ListenerPlanner planner, AlertSettings settings, Pass pass) =>
        unit.Members.Any(part => listener.Wants(part.Transition.Alert.Rule, part.View.Batch.Id))
        || (unit.Line.Severity is Severity.Urgent && settings.Away?.IsHelper(listener.Name, pass.Now) == true)
        || unit.Line.Alerts.Any(planner.Knows);

    /// <summary>Alerts that were told before any ledger was kept.</summary>
    private static IEnumerable<TrackedAlert> ToldBefore(IReadOnlyList<(BatchView View, StepResult Result)> batches) => batches.SelectMany(batch =>
    {
        var changed = batch.Result.Transitions.DistinctBy(transition => transition.Alert.Key).ToDictionary(transition => transition.Alert.Key, StringComparer.Ordinal);
        return batch.Result.Now.Alerts.Where(alert => changed.TryGetValue(alert.Key, out var change)
            ? change is { MayBeUnsent: false, Kind: TransitionKind.Repeated or TransitionKind.Cleared or TransitionKind.Withdrawn }
            : alert is { Standing: AlertStanding.Raised, Told: AlertStanding.Raised });
    });

    private static IEnumerable<string> Overtaken(TrackedAlert alert, AlertSettings settings) =>
        from state in Enumerable.Range(1, Math.Max(0, alert.StateNumber - 1))
        from listener in settings.Listeners
        select ListenerPlanner.KeyOf(alert.Key, state, 0, listener.Name);
}
