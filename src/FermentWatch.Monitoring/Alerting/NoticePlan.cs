using System.Globalization;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>What a pass puts into the outbox, in the transaction that stores its sets.</summary>
/// <param name="Drafts">New rows.</param>
/// <param name="Canceled">Keys of rows that are overtaken: those still waiting must not be sent any more. Most of them exist no longer, or never did.</param>
public sealed record NoticePlan(ValueList<OutboxDraft> Drafts, ValueList<string> Canceled)
{
    /// <summary>Plans the notices for one batch.</summary>
    public static NoticePlan For(BatchView view, StepResult result, AlertSettings settings, Pass pass) =>
        For([(view, result)], settings, pass);

    /// <summary>Plans the notices of a pass over several batches: what shares a thread goes into one.</summary>
    /// <param name="batches">View and result of each batch of the pass.</param>
    /// <param name="settings">Channels and group wait.</param>
    /// <param name="pass">The present.</param>
    public static NoticePlan For(IReadOnlyList<(BatchView View, StepResult Result)> batches, AlertSettings settings, Pass pass)
    {
        var drafts = new List<OutboxDraft>();
        var canceled = new List<string>();
        var parts = batches.SelectMany(batch => batch.Result.Transitions.Select(transition => (batch.View, Transition: transition))).ToList();
        foreach (var together in parts.GroupBy(part => (part.Transition.Alert.Thread, part.Transition.Kind)))
        {
            var members = together.ToList();
            canceled.AddRange(members.SelectMany(part => Overtaken(part.Transition.Alert, settings)));
            if (IsToBeTold(together.Key.Kind, members, batches))
            {
                var words = AlertRuleCatalog.Named(members[0].Transition.Alert.Rule).Words(Subject(together.Key.Kind, members, batches, pass));
                drafts.AddRange(Draft(together.Key.Thread, members, words, settings, pass));
            }
        }

        foreach (var past in parts.Where(part => part.Transition.Kind is TransitionKind.FoundInPast).GroupBy(part => part.View.Batch.Id))
        {
            drafts.AddRange(Draft($"{past.Key}/past", [.. past], PastNotice.Words([.. past]), settings, pass));
        }

        return new NoticePlan(ValueList.Of(drafts), ValueList.Of(canceled));
    }

    private static bool IsToBeTold(
        TransitionKind kind,
        List<(BatchView View, AlertTransition Transition)> members,
        IReadOnlyList<(BatchView View, StepResult Result)> batches) => kind switch
        {
            TransitionKind.Fleeting or TransitionKind.FoundInPast => false,
            TransitionKind.Raised or TransitionKind.Repeated => true,
            _ => members.Any(part => !part.Transition.MayBeUnsent) && !IsThreadStanding(members[0].Transition.Alert, batches),
        };

    /// <summary>An all-clear would replace the notice on the device: it waits for the last alert of the thread.</summary>
    private static bool IsThreadStanding(TrackedAlert member, IReadOnlyList<(BatchView View, StepResult Result)> batches) =>
        batches.Any(batch => batch.Result.Now.Alerts.Any(alert =>
            alert.Thread == member.Thread && alert is { Standing: AlertStanding.Raised, Told: AlertStanding.Raised }));

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

    private static IEnumerable<OutboxDraft> Draft(
        string thread,
        List<(BatchView View, AlertTransition Transition)> members,
        NoticeWords words,
        AlertSettings settings,
        Pass pass)
    {
        var first = members[0].Transition;
        var isQuietKind = first.Kind is TransitionKind.Cleared or TransitionKind.FoundInPast;
        var severity = isQuietKind ? Severity.Info : members.Max(part => part.Transition.Alert.Severity);
        var alerts = members.Select(part => part.Transition.Alert).ToList();
        foreach (var listener in settings.Listeners.Where(one => members.Any(part => one.Wants(part.Transition.Alert.Rule, part.View.Batch.Id))))
        {
            if (listener.Due(first.Kind, alerts, settings, pass) is { } due)
            {
                yield return new OutboxDraft(
                    Key(first.Alert.Key, first.Alert.StateNumber, listener.Name),
                    listener.Name,
                    thread,
                    members[0].View.Batch.Id,
                    severity,
                    Silent: isQuietKind,
                    words.Title,
                    words.Body,
                    due);
            }
        }
    }

    private static IEnumerable<string> Overtaken(TrackedAlert alert, AlertSettings settings) =>
        from state in Enumerable.Range(1, Math.Max(0, alert.StateNumber - 1))
        from listener in settings.Listeners
        select Key(alert.Key, state, listener.Name);

    private static string Key(string alert, int state, string channel) =>
        string.Create(CultureInfo.InvariantCulture, $"{alert}#{state}@{channel}");
}
