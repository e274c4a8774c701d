using System.Globalization;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Services;

/// <summary>Reconciles how the service is with what was said of it before, and writes the notices.</summary>
public static class ServiceAlerts
{
    // Alerts that ended stay listed for the page and for the keys of their notices.
    private const int Kept = 20;

    private static readonly BatchId Service = new("service");

    /// <summary>In place of a batch, for notices that are about none.</summary>
    public static BatchId NoBatch { get; } = new("");

    /// <summary>One pass over the service itself.</summary>
    /// <param name="was">What the last pass left, from disk.</param>
    /// <param name="facts">How it is.</param>
    /// <param name="limits">Delays and limits.</param>
    /// <param name="alerts">Listeners, quiet hours and group wait.</param>
    /// <param name="pass">The present; its listening is the time that the service ran since the last pass.</param>
    public static ServiceStep Step(ServiceSet was, ServiceFacts facts, ServiceLimits limits, AlertSettings alerts, Pass pass)
    {
        ArgumentNullException.ThrowIfNull(was);
        ArgumentNullException.ThrowIfNull(pass);
        var ran = was.Ran + pass.Listening;
        var timers = new List<ServiceTimer>();
        var tracked = was.Alerts.ToList();
        var number = was.NextNumber;
        var drafts = new List<OutboxDraft>();
        var canceled = new List<string>();
        foreach (var rule in ServiceRuleCatalog.All)
        {
            foreach (var found in rule.Find(facts, limits, pass.Now))
            {
                var timer = Move(was, rule, found, ran, pass);
                timers.Add(timer);
                var index = tracked.FindLastIndex(alert => alert.Rule == rule.Id && alert.Subject == found.Subject && alert.Standing is AlertStanding.Raised);
                if (timer.State.Stands && index < 0)
                {
                    tracked.Add(New(rule, found, timer, number++));
                    index = tracked.Count - 1;
                }

                if (index >= 0)
                {
                    tracked[index] = Tell(tracked[index], rule, found, timer, (ran, pass, alerts), drafts, canceled);
                }
            }
        }

        var ended = tracked.Where(alert => alert.Standing is not AlertStanding.Raised).ToList();
        var leaving = ended.Take(ended.Count - Kept).ToHashSet();
        var now = was with { Timers = ValueList.Of<ServiceTimer>(timers), Alerts = ValueList.Of(tracked.Where(alert => !leaving.Contains(alert))), Ran = ran, NextNumber = number };
        var mustStore = drafts.Count > 0 || !now.Alerts.Equals(was.Alerts)
            || !now.Timers.Select(one => (one.Rule, one.Subject, one.State.Phase)).SequenceEqual(was.Timers.Select(one => (one.Rule, one.Subject, one.State.Phase)));
        return new ServiceStep(now, ValueList.Of<OutboxDraft>(drafts), ValueList.Of<string>(canceled), mustStore);
    }

    /// <summary>Alerts of the service that last, that nobody dealt with and of which nobody is reminded any more: they live in the daily digest.</summary>
    /// <param name="set">The set.</param>
    /// <param name="now">The present.</param>
    public static ValueList<NoticeLine> Lasting(ServiceSet set, ReceivedAt now)
    {
        ArgumentNullException.ThrowIfNull(set);
        return ValueList.Of(
            from alert in set.Alerts
            where alert is { Standing: AlertStanding.Raised, Told: AlertStanding.Raised, AcknowledgedAt: null, Snooze: null, Severity: not Severity.Urgent }
            let rule = ServiceRuleCatalog.Find(alert.Rule)
            where rule is not null && alert.Repeats >= rule.Repeat.Times
            select new NoticeLine(
                ValueList.Of<string>([alert.Key]), NoBatch, alert.Rule, TransitionKind.Repeated, alert.Severity, alert.StateNumber, alert.Thread, now,
                rule.Title(alert.Because), ValueList.Of<Reason>([alert.Because, .. rule.Advice(alert.Because)])));
    }

    private static ServiceTimer Move(ServiceSet was, ServiceRule rule, ServiceFinding found, TimeSpan ran, Pass pass)
    {
        var before = was.Timers.FirstOrDefault(one => one.Rule == rule.Id && one.Subject == found.Subject);
        var state = (before?.State ?? AlertState.Start).Next(found.Condition, RuleTime.Of(ran), found.Timing);
        return new ServiceTimer(rule.Id, found.Subject, state, state.Phase is AlertPhase.Quiet ? null : before?.BeganAt ?? pass.Now);
    }

    private static TrackedAlert New(ServiceRule rule, ServiceFinding found, ServiceTimer timer, int number)
    {
        var began = new EventTime(timer.BeganAt!.Value.UnixMicroseconds);
        var episode = new AlertEpisode(rule.Id, found.Subject, found.Severity, began, began, ClearedAt: null, found.Because);
        return AlertHistory.New(episode, Service, number, AlertStanding.Raised);
    }

    private static TrackedAlert Tell(
        TrackedAlert alert,
        ServiceRule rule,
        ServiceFinding found,
        ServiceTimer timer,
        (TimeSpan Ran, Pass Pass, AlertSettings Settings) at,
        List<OutboxDraft> drafts,
        List<string> canceled)
    {
        if (!timer.State.Stands)
        {
            var over = alert with { Standing = AlertStanding.Cleared, Told = AlertStanding.Cleared, ClearedAt = new EventTime(at.Pass.Now.UnixMicroseconds), Snooze = null };
            if (alert.Told is not AlertStanding.Raised)
            {
                return over;
            }

            over = over with { StateNumber = alert.StateNumber + 1 };
            var words = new NoticeWords(Reason.Of("title-service-ended"), ValueList.Of(Reason.Of("ended-" + rule.Id + (rule.Id == StorageRule.Id ? "-" + found.Subject : ""))));
            Draft(over, words, found, at, isSilent: true, drafts, canceled);
            return over;
        }

        var isNews = alert.Told is not AlertStanding.Raised || found.Severity > alert.ToldSeverity;
        var isQuiet = alert.Snooze?.Quiets(found.Severity, at.Pass.Now) == true;
        // A snooze that is over was a wish to hear of it then. Urgent ones are repeated until somebody acknowledges them.
        var isRepeat = !isNews && !isQuiet
            && (alert.Snooze is not null || (alert.AcknowledgedAt is null && (alert.Repeats < rule.Repeat.Times || found.Severity is Severity.Urgent) && at.Ran - alert.ToldAtListened >= rule.Repeat.Every));
        if ((!isNews && !isRepeat) || timer.State.Phase is AlertPhase.Easing || IsHeld(alert, found, at))
        {
            return alert;
        }

        var told = alert with
        {
            Told = AlertStanding.Raised,
            Severity = found.Severity,
            ToldSeverity = found.Severity,
            Snooze = null,
            AcknowledgedAt = isNews ? null : alert.AcknowledgedAt,
            ToldAt = at.Pass.Now,
            ToldAtListened = at.Ran,
            StateNumber = alert.StateNumber + 1,
            Repeats = isRepeat ? alert.Repeats + 1 : 0,
            Because = found.Because,
        };
        Draft(told, new NoticeWords(rule.Title(found.Because), ValueList.Of<Reason>([found.Because, .. rule.Advice(found.Because)])), found, at, isSilent: false, drafts, canceled);
        return told;
    }

    /// <summary>At night what is not urgent waits: to its end, or for as long as the rule bears.</summary>
    private static bool IsHeld(TrackedAlert alert, ServiceFinding found, (TimeSpan Ran, Pass Pass, AlertSettings Settings) at) =>
        found.Severity is not Severity.Urgent
        && at.Pass.ClockTrusted
        && at.Settings.QuietHours?.EndOf(at.Pass.Now, at.Pass.Zone) is not null
        && !(found.HeldAtNight is { } longest && new EventTime(at.Pass.Now.UnixMicroseconds) - alert.BeganAt >= longest);

    private static void Draft(
        TrackedAlert alert,
        NoticeWords words,
        ServiceFinding found,
        (TimeSpan Ran, Pass Pass, AlertSettings Settings) at,
        bool isSilent,
        List<OutboxDraft> drafts,
        List<string> canceled)
    {
        foreach (var listener in at.Settings.Listeners.Where(one => one.Name != found.NotThrough && !one.WithoutRules.Contains(alert.Rule)))
        {
            canceled.AddRange(Enumerable.Range(1, alert.StateNumber - 1).Select(state => Key(alert.Key, state, listener.Name)));
            drafts.Add(new OutboxDraft(
                Key(alert.Key, alert.StateNumber, listener.Name),
                listener.Name,
                alert.Thread,
                NoBatch,
                isSilent ? Severity.Info : found.Severity,
                isSilent,
                words.Title,
                words.Body,
                at.Pass.Now));
        }
    }

    private static string Key(string alert, int state, string channel) => string.Create(CultureInfo.InvariantCulture, $"{alert}#{state}@{channel}");
}
