using FermentWatch.Monitoring.Alerting.Inhibitions;
using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>Compares where each alert stands with what was last told, and decides what is to be told now.</summary>
internal static class Telling
{
    public static (AlertSet Set, ValueList<AlertTransition> Transitions) Apply(
        AlertSet set,
        Dictionary<string, AlertEpisode> episodes,
        Dictionary<string, Reason> ended,
        InhibitionFacts facts)
    {
        var (settings, pass) = (facts.Settings, facts.Pass);
        // A clock that may be hours wrong does not know when night is: rather speak.
        var isNight = pass.ClockTrusted && settings.CommonQuietHours?.EndOf(pass.Now, pass.Zone) is not null;
        var holds = set.Alerts.Select(alert => InhibitionCatalog.Of(alert, facts)).ToList();
        var kinds = set.Alerts
            .Select((alert, i) => IsToldOn(alert) ? null : Decide(alert, episodes.GetValueOrDefault(alert.Key), settings, (pass.Now, set.Listened), isNight, holds[i] is not null, OtherEvent(set, alert, facts.View)))
            .ToList();
        var also = Merging.Apply(
            set.Alerts, episodes, holds, kinds, i => IsQuiet(set.Alerts[i], pass.Now, isNight, holds[i] is not null, OtherEvent(set, set.Alerts[i], facts.View)), isNight);
        var transitions = new List<AlertTransition>();
        var alerts = new List<TrackedAlert>();
        for (var i = 0; i < kinds.Count; i++)
        {
            var alert = set.Alerts[i];
            var episode = episodes.GetValueOrDefault(alert.Key);
            var told = kinds[i] is { } change ? Tell(alert, change, episode, pass.Now, set.Listened) : IsToldOn(alert) ? alert with { Told = AlertStanding.Cleared, Snooze = null } : Settle(alert);
            alerts.Add(told with
            {
                Held = alert.Standing is AlertStanding.Raised ? holds[i]?.Because : null,
                ToldIn = also.FirstOrDefault(one => one.Yields == i) is { } one ? one.Host : told.ToldIn,
            });
            if (kinds[i] is { } changed)
            {
                var mayBeUnsent = alert.ToldAt is { } before && (pass.Now - before).Duration() < settings.GroupWait;
                var merged = also.FirstOrDefault(one => one.Host == alert.Key);
                transitions.Add(new AlertTransition(changed, alerts[^1], episode, mayBeUnsent)
                {
                    EndedBecause = ended.GetValueOrDefault(alert.Key),
                    Also = merged?.Because,
                    IsAlsoNews = merged is { IsNews: true },
                });
            }
        }

        var result = new StepResult(set with { Alerts = ValueList.Of(alerts) }, ValueList.Of(transitions), MustStore: false);
        var shared = ShareThreads([result])[0];
        return (shared.Now, shared.Transitions);

        bool IsToldOn(TrackedAlert alert) => alert.Standing is AlertStanding.Cleared && ended.GetValueOrDefault(alert.Key) == EndedNotice.ToldOn;
    }

    /// <summary>Gives alerts of a rule that is told together one thread, where they were raised in the same pass.</summary>
    public static ValueList<StepResult> ShareThreads(IReadOnlyList<StepResult> results)
    {
        var threads = results
            .SelectMany(result => result.Transitions)
            .Where(transition => transition.Kind is TransitionKind.Raised && AlertRuleCatalog.Named(transition.Alert.Rule).IsToldTogether)
            .GroupBy(transition => transition.Alert.Rule)
            .SelectMany(rule => rule.Select(transition => (transition.Alert.Key, rule.First().Alert.Key)))
            .ToDictionary();
        return ValueList.Of(results.Select(result => result with
        {
            Now = result.Now with { Alerts = ValueList.Of(result.Now.Alerts.Select(Shared)) },
            Transitions = ValueList.Of(result.Transitions.Select(transition => transition with { Alert = Shared(transition.Alert) })),
        }));

        TrackedAlert Shared(TrackedAlert alert) => threads.TryGetValue(alert.Key, out var thread) ? alert with { Thread = thread } : alert;
    }

    private static TransitionKind? Decide(
        TrackedAlert alert,
        AlertEpisode? episode,
        AlertSettings settings,
        (ReceivedAt Now, TimeSpan Listened) at,
        bool isNight,
        bool isInhibited,
        EventTime? otherEvent)
    {
        var isHeld = IsHeld(alert, isNight, isInhibited);
        var isSnoozed = IsSnoozed(alert, at.Now, otherEvent);
        return (alert.Standing, alert.Told) switch
        {
            (AlertStanding.Raised, AlertStanding.Raised) => isHeld || isSnoozed ? null : Again(alert, settings, at.Listened),
            (AlertStanding.Raised, _) => isHeld || isSnoozed || episode is { IsEasing: true } ? null : TransitionKind.Raised,
            // What only the digest told needs no all-clear.
            (AlertStanding.Cleared, AlertStanding.Raised) => alert.Severity is Severity.Info ? null : TransitionKind.Cleared,
            (AlertStanding.Cleared, null) => alert.ToldIn is null ? TransitionKind.Fleeting : null,
            (AlertStanding.Withdrawn, AlertStanding.Raised) => isHeld ? null : TransitionKind.Withdrawn,
            (AlertStanding.Past, null) => isHeld ? null : TransitionKind.FoundInPast,
            _ => null,
        };
    }

    private static bool IsHeld(TrackedAlert alert, bool isNight, bool isInhibited) => isInhibited || (isNight && alert.Severity is not Severity.Urgent);

    private static bool IsSnoozed(TrackedAlert alert, ReceivedAt now, EventTime? otherEvent) =>
        alert.Snooze is { } snooze && snooze.Quiets(alert.Severity, now, otherEvent);

    private static bool IsQuiet(TrackedAlert alert, ReceivedAt now, bool isNight, bool isInhibited, EventTime? otherEvent) =>
        IsHeld(alert, isNight, isInhibited) || IsSnoozed(alert, now, otherEvent);

    /// <summary>When anything else last happened to the batch: an entry of the journal or another alert.</summary>
    private static EventTime? OtherEvent(AlertSet set, TrackedAlert alert, BatchView view) => view.Journal.Select(entry => entry.At)
        .Concat(set.Alerts.Where(other => other.Key != alert.Key && other.Standing is not AlertStanding.Withdrawn).Select(other => other.RaisedAt))
        .Where(at => at <= view.Now)
        .Select(at => (EventTime?)at)
        .Max();

    /// <summary>What is said of an alert that was told and lasts. A rise is news, whoever is on it; a snooze that is over was a wish to hear of it then.</summary>
    private static TransitionKind? Again(TrackedAlert alert, AlertSettings settings, TimeSpan listened) =>
        alert.Severity > alert.ToldSeverity ? TransitionKind.Raised
        : alert.Snooze is { } over ? (alert.Severity > over.Severity ? TransitionKind.Raised : TransitionKind.Repeated)
        : IsRepeatDue(alert, settings, listened) ? TransitionKind.Repeated
        : null;

    private static bool IsRepeatDue(TrackedAlert alert, AlertSettings settings, TimeSpan listened)
    {
        var repeat = AlertRuleCatalog.Named(alert.Rule).Repeat(settings);
        // Urgent ones are repeated until somebody acknowledges them.
        var then = repeat.ThenEvery ?? (alert.Severity is Severity.Urgent ? repeat.Every : null);
        return alert.AcknowledgedAt is null
            && (alert.Repeats < repeat.Times ? repeat.Every : then) is { } wait
            && listened - alert.ToldAtListened >= wait;
    }

    private static TrackedAlert Tell(TrackedAlert alert, TransitionKind kind, AlertEpisode? episode, ReceivedAt now, TimeSpan listened) => alert with
    {
        Told = alert.Standing,
        ToldSeverity = kind is TransitionKind.Raised or TransitionKind.Repeated ? alert.Severity : alert.ToldSeverity,
        UrgentToldAt = alert.Severity is not Severity.Urgent ? null : kind is TransitionKind.Raised ? now : alert.UrgentToldAt ?? now,
        ToldAt = now,
        ToldAtListened = listened,
        StateNumber = kind is TransitionKind.Fleeting ? alert.StateNumber : alert.StateNumber + 1,
        Repeats = kind is TransitionKind.Repeated ? alert.Repeats + 1 : kind is TransitionKind.Raised ? 0 : alert.Repeats,
        AcknowledgedAt = kind is TransitionKind.Raised ? null : alert.AcknowledgedAt,
        Snooze = null,
        Because = kind is TransitionKind.Raised or TransitionKind.Repeated ? episode?.Because ?? alert.Because : alert.Because,
    };

    // What needs no words is settled silently. A snooze ends with the alert: should it come back, it is told.
    private static TrackedAlert Settle(TrackedAlert alert)
    {
        var rest = alert.Standing is AlertStanding.Raised ? alert : alert with { Snooze = null };
        return rest.Standing is AlertStanding.Cleared or AlertStanding.Withdrawn && (rest.Told is not AlertStanding.Raised || rest is { Standing: AlertStanding.Cleared, Severity: Severity.Info })
            ? rest with { Told = rest.Standing }
            : rest;
    }
}
