using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>What a pass has to say, before anybody's limits: a line with the transitions that it tells of.</summary>
/// <param name="Line">The words.</param>
/// <param name="Members">The transitions, with the batch of each.</param>
internal sealed record NoticeUnit(NoticeLine Line, IReadOnlyList<(BatchView View, AlertTransition Transition)> Members)
{
    /// <summary>When a new alert was found whose rule leaves what it finds at night to the digest; null for any other.</summary>
    public EventTime? FoundAtNight => Line.Kind is TransitionKind.Raised && AlertRuleCatalog.Named(Line.Rule).IsForDigestAtNight ? Members[0].Transition.Alert.RaisedAt : null;
}

/// <summary>Makes lines of transitions: what shares a thread is told in one, what was over before we learned of it in one a batch.</summary>
internal static class NoticeUnits
{
    public static IReadOnlyList<NoticeUnit> Of(IReadOnlyList<(BatchView View, StepResult Result)> batches, Pass pass)
    {
        var units = new List<NoticeUnit>();
        var parts = batches.SelectMany(batch => batch.Result.Transitions.Select(transition => (batch.View, Transition: transition))).ToList();
        foreach (var together in parts.GroupBy(part => (part.Transition.Alert.Thread, part.Transition.Kind)))
        {
            var members = together.ToList();
            if (IsToBeTold(together.Key.Kind, members[0].Transition.Alert, batches))
            {
                units.Add(new NoticeUnit(Line(together.Key.Kind, together.Key.Thread, members, batches, pass), members));
            }
        }

        foreach (var past in parts.Where(part => part.Transition.Kind is TransitionKind.FoundInPast).GroupBy(part => part.View.Batch.Id))
        {
            var members = past.ToList();
            units.Add(new NoticeUnit(Line(TransitionKind.FoundInPast, $"{past.Key}/past", members, PastNotice.Words(members), pass), members));
        }

        return units;
    }

    /// <summary>Alerts that last, that nobody dealt with and of which nobody is reminded any more: they live in the daily digest.</summary>
    public static IReadOnlyList<NoticeLine> Lasting(IReadOnlyList<(BatchView View, StepResult Result)> batches, AlertSettings settings, Pass pass)
    {
        var parts =
            from batch in batches
            from alert in batch.Result.Now.Alerts
            where alert is { Standing: AlertStanding.Raised, Told: AlertStanding.Raised, AcknowledgedAt: null, Snooze: null }
                && alert.Severity is Severity.Action or Severity.Warning
            let repeat = AlertRuleCatalog.Named(alert.Rule).Repeat(settings)
            where alert.Repeats >= repeat.Times && repeat.ThenEvery is null
            select (batch.View, Transition: new AlertTransition(TransitionKind.Repeated, alert, Episode: null));
        return
        [
            .. parts.GroupBy(part => part.Transition.Alert.Thread)
                .Select(together => Line(TransitionKind.Repeated, together.Key, [.. together], batches, pass)),
        ];
    }

    /// <summary>Urgent alerts that nobody took on for long enough that a second person is told.</summary>
    public static IReadOnlyList<NoticeLine> Untaken(IReadOnlyList<(BatchView View, StepResult Result)> batches, AlertSettings settings, Pass pass) =>
    [
        .. from batch in batches
           from alert in batch.Result.Now.Alerts
           where alert is { Standing: AlertStanding.Raised, Severity: Severity.Urgent, AcknowledgedAt: null, Snooze: null }
               && alert.UrgentToldAt is { } told && pass.Now - told >= settings.Limits.SecondAfter
           select Line(TransitionKind.Repeated, alert.Thread, [(batch.View, new AlertTransition(TransitionKind.Repeated, alert, Episode: null))], batches, pass),
    ];

    private static bool IsToBeTold(TransitionKind kind, TrackedAlert first, IReadOnlyList<(BatchView View, StepResult Result)> batches) => kind switch
    {
        TransitionKind.Fleeting or TransitionKind.FoundInPast => false,
        TransitionKind.Raised or TransitionKind.Repeated => true,
        _ => !IsThreadStanding(first, batches),
    };

    /// <summary>An all-clear would replace the notice on the device: it waits for the last alert of the thread.</summary>
    private static bool IsThreadStanding(TrackedAlert member, IReadOnlyList<(BatchView View, StepResult Result)> batches) =>
        batches.Any(batch => batch.Result.Now.Alerts.Any(alert =>
            alert.Thread == member.Thread && alert is { Standing: AlertStanding.Raised, Told: AlertStanding.Raised }));

    private static NoticeLine Line(
        TransitionKind kind,
        string thread,
        List<(BatchView View, AlertTransition Transition)> members,
        IReadOnlyList<(BatchView View, StepResult Result)> batches,
        Pass pass)
    {
        var words = AlertRuleCatalog.Named(members[0].Transition.Alert.Rule).Words(Subject(kind, members, batches, pass));
        return Line(kind, thread, members, Chattering.Add(words, kind, members, batches), pass);
    }

    private static NoticeLine Line(
        TransitionKind kind,
        string thread,
        List<(BatchView View, AlertTransition Transition)> members,
        NoticeWords words,
        Pass pass)
    {
        var first = members[0].Transition.Alert;
        return new NoticeLine(
            ValueList.Of(members.Select(part => part.Transition.Alert.Key)),
            members[0].View.Batch.Id,
            first.Rule,
            kind,
            members.Max(part => part.Transition.Alert.Severity),
            first.StateNumber,
            thread,
            pass.Now,
            words.Title,
            words.Body);
    }

    private static NoticeSubject Subject(
        TransitionKind kind,
        List<(BatchView View, AlertTransition Transition)> members,
        IReadOnlyList<(BatchView View, StepResult Result)> batches,
        Pass pass)
    {
        var named = members.Select(part => part.View.Batch.Id).ToHashSet();
        var sensors = batches.Where(batch => named.Contains(batch.View.Batch.Id)).Sum(batch => batch.Result.Now.Listening.Count);
        var isEverything = named.Count > 1 && members.Count == batches.Sum(batch => batch.Result.Now.Listening.Count);
        var inThread = batches.Sum(batch => batch.Result.Now.Alerts.Count(alert => alert.Thread == members[0].Transition.Alert.Thread));
        return new NoticeSubject(kind, members, sensors, inThread, isEverything, pass.Now);
    }
}
