using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>What people say about alerts, as changes of the set. An unknown or ended alert changes nothing; a later act replaces an earlier one.</summary>
public static class AlertActs
{
    /// <summary>Does an act.</summary>
    /// <param name="set">The set.</param>
    /// <param name="act">What was said.</param>
    /// <param name="key">Key of the alert, or thread under which it was shown.</param>
    /// <param name="at">When.</param>
    /// <param name="zone">The reader's zone, for a snooze until the morning; null for UTC.</param>
    public static AlertSet Act(this AlertSet set, AlertAct act, string key, ReceivedAt at, TimeZoneInfo? zone = null) => act switch
    {
        AlertAct.OnIt => set.Acknowledge(key, at),
        AlertAct.Snooze => set.Snooze(key, at, AlertSnooze.Usual),
        AlertAct.SnoozeHour => set.Snooze(key, at, TimeSpan.FromHours(1)),
        AlertAct.SnoozeMorning => set.Snooze(key, at, AlertSnooze.UntilMorning(at, zone ?? TimeZoneInfo.Utc)),
        AlertAct.SnoozeEvent => set.Snooze(key, at, TimeSpan.MaxValue, isUntilEvent: true),
        AlertAct.Wrong => set.Dispute(key, at),
        _ => throw new ArgumentOutOfRangeException(nameof(act), act, "No such act."),
    };

    /// <summary>Quiets an alert for a while; see <see cref="AlertSnooze"/>. An earlier 'I am on it' no longer counts: it is told again afterwards.</summary>
    /// <param name="set">The set.</param>
    /// <param name="key">Key of the alert, or thread under which it was shown.</param>
    /// <param name="at">From when.</param>
    /// <param name="length">For how long; more than zero, cut to <see cref="AlertSnooze.Longest"/>.</param>
    /// <param name="isUntilEvent">Whether it also ends with the next entry of the journal or the next other alert of the batch.</param>
    public static AlertSet Snooze(this AlertSet set, string key, ReceivedAt at, TimeSpan length, bool isUntilEvent = false) => Change(
        set, key, alert => alert with { Snooze = AlertSnooze.Begin(at, length, alert.Severity) with { IsUntilEvent = isUntilEvent }, AcknowledgedAt = null });

    /// <summary>Whether somebody said something about a standing alert that makes a waiting notice of it needless.</summary>
    public static bool IsDealtWith(this TrackedAlert alert)
    {
        ArgumentNullException.ThrowIfNull(alert);
        return alert.Standing is AlertStanding.Raised && (alert.AcknowledgedAt is not null || alert.Snooze is not null);
    }

    /// <summary>Notes that somebody says that an alert is wrong: it counts against the precision of its rule, and ends its repeats.</summary>
    /// <param name="set">The set.</param>
    /// <param name="key">Key of the alert, or thread under which it was shown.</param>
    /// <param name="at">When.</param>
    public static AlertSet Dispute(this AlertSet set, string key, ReceivedAt at) => Change(
        set, key, alert => alert with { DisputedAt = alert.DisputedAt ?? at, AcknowledgedAt = alert.AcknowledgedAt ?? at, Snooze = null });

    /// <summary>The set with what people said according to another copy of it: timers run on in memory while acts are written to the disk.</summary>
    public static AlertSet WithActsOf(this AlertSet set, AlertSet other)
    {
        var said = other.Alerts.ToDictionary(alert => alert.Key);
        return set with
        {
            Alerts = ValueList.Of(set.Alerts.Select(alert => said.TryGetValue(alert.Key, out var known)
                ? alert with { AcknowledgedAt = known.AcknowledgedAt, Snooze = known.Snooze, DisputedAt = known.DisputedAt }
                : alert)),
        };
    }

    internal static AlertSet Change(AlertSet set, string key, Func<TrackedAlert, TrackedAlert> change) => set with
    {
        Alerts = ValueList.Of(set.Alerts.Select(alert =>
            (alert.Key == key || alert.Thread == key) && alert.Standing is AlertStanding.Raised ? change(alert) : alert)),
    };
}
