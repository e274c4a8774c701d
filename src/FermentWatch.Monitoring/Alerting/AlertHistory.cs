using System.Globalization;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>Begins and ends the record of an alert.</summary>
internal static class AlertHistory
{
    // Enough to match late samples with what was told; older ones are remembered by the time up to which all is known.
    private const int Kept = 100;

    public static TrackedAlert New(AlertEpisode episode, BatchId batch, int number, AlertStanding standing)
    {
        var key = string.Create(CultureInfo.InvariantCulture, $"{batch}/{episode.Rule}/{episode.Subject}/{number}");
        return new TrackedAlert(
            key, episode.Rule, episode.Subject, episode.Severity, episode.BeganAt, episode.RaisedAt, episode.ClearedAt, standing,
            Told: null, ToldAt: null, ToldAtListened: TimeSpan.Zero, StateNumber: 0, Repeats: 0, AcknowledgedAt: null, Thread: key, episode.Because);
    }

    public static AlertSet Trim(AlertSet set)
    {
        var ended = set.Alerts.Where(alert => alert.ClearedAt is not null && alert.Told == alert.Standing).ToList();
        if (ended.Count <= Kept)
        {
            return set;
        }

        var leaving = ended.OrderBy(alert => alert.ClearedAt).Take(ended.Count - Kept).ToHashSet();
        return set with
        {
            Alerts = ValueList.Of(set.Alerts.Where(alert => !leaving.Contains(alert))),
            KnownUntil = Later(set.KnownUntil, leaving.Max(alert => alert.ClearedAt)),
        };
    }

    private static EventTime? Later(EventTime? one, EventTime? other) => one is null || other > one ? other : one;
}
