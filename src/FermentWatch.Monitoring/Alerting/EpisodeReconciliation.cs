using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>Finds for each episode on the samples' time line the alert that was tracked for it, and what became of each.</summary>
internal static class EpisodeReconciliation
{
    private static readonly TimeSpan AssumedInterval = TimeSpan.FromMinutes(15);

    /// <summary>Gives the set with new standings, and the episode of each alert by key.</summary>
    public static (AlertSet Set, Dictionary<string, AlertEpisode> Episodes) Apply(AlertSet was, BatchView view, Pass pass)
    {
        var sampleRules = AlertRuleCatalog.All.Where(rule => rule.OnSamples is not null).Select(rule => rule.Id).ToHashSet();
        var alerts = was.Alerts.ToList();
        var episodes = new Dictionary<string, AlertEpisode>();
        var number = was.NextNumber;
        var matched = new HashSet<string>();

        // Newest first: a lasting episode belongs to the alert that was told last.
        foreach (var episode in view.Episodes.OrderByDescending(one => one.BeganAt).ThenByDescending(one => one.RaisedAt))
        {
            var overlapping = alerts.Where(alert => IsSame(alert, episode) && Overlap(alert, episode)).ToList();
            var mine = overlapping.LastOrDefault(alert => !matched.Contains(alert.Key));
            if (mine is null && overlapping.Count > 0 && episode.ClearedAt is not null)
            {
                continue; // Part of what was told already, split by late samples.
            }

            if (mine is null && !IsWorthTracking(episode, was, view, pass))
            {
                continue;
            }

            mine ??= New(episode, view.Batch.Id, number++, alerts);
            matched.Add(mine.Key);
            episodes[mine.Key] = episode;
            alerts[alerts.FindIndex(alert => alert.Key == mine.Key)] = mine with
            {
                // What was told about a longer stretch stays told about all of it.
                BeganAt = episode.BeganAt < mine.BeganAt ? episode.BeganAt : mine.BeganAt,
                RaisedAt = episode.RaisedAt,
                ClearedAt = episode.ClearedAt,
                Severity = episode.Severity,
                Standing = episode.ClearedAt is null ? AlertStanding.Raised
                    : mine.Told is null && mine.Standing is AlertStanding.Past ? AlertStanding.Past
                    : AlertStanding.Cleared,
            };
        }

        var kept = alerts.Select(alert => sampleRules.Contains(alert.Rule) && !matched.Contains(alert.Key)
            ? Unmatched(alert, view, was.KnownUntil)
            : alert);
        return (was with { Alerts = ValueList.Of(kept), NextNumber = number }, episodes);
    }

    private static TrackedAlert New(AlertEpisode episode, BatchId batch, int number, List<TrackedAlert> alerts)
    {
        var standing = episode.ClearedAt is null ? AlertStanding.Raised : AlertStanding.Past;
        var alert = AlertHistory.New(episode, batch, number, standing);
        alerts.Add(alert);
        return alert;
    }

    // It was merged into a neighbor by late samples, or is not in the facts any more.
    private static TrackedAlert Unmatched(TrackedAlert alert, BatchView view, EventTime? knownUntil)
    {
        // A clock that went back hides the samples of the time that it repeats: they say nothing until it comes there again.
        if (alert.RaisedAt > view.Now)
        {
            return alert;
        }

        if (alert.Standing is AlertStanding.Withdrawn || (alert.ClearedAt is { } cleared && knownUntil is { } known && cleared <= known))
        {
            return alert;
        }

        var isMerged = view.Episodes.Any(episode => IsSame(alert, episode) && Overlap(alert, episode));
        return alert with
        {
            Standing = isMerged ? (alert.Standing is AlertStanding.Past ? AlertStanding.Past : AlertStanding.Cleared) : AlertStanding.Withdrawn,
            ClearedAt = alert.ClearedAt ?? view.Now,
        };
    }

    /// <summary>Not what was dealt with long ago, and no alert on evidence that is long out of date: nobody knows how it is now.</summary>
    private static bool IsWorthTracking(AlertEpisode episode, AlertSet was, BatchView view, Pass pass)
    {
        if (episode.ClearedAt is { } cleared)
        {
            return was.KnownUntil is not { } known || cleared > known;
        }

        var interval = view.Sensors.Where(status => status.Sensor.Value == episode.Subject).Max(status => status.MedianInterval);
        return !episode.IsEasing && (!pass.ClockTrusted || view.Now - episode.EvidenceAt <= AlertTiming.UsualGapLimit(interval ?? AssumedInterval));
    }

    private static bool IsSame(TrackedAlert alert, AlertEpisode episode) => alert.Rule == episode.Rule && alert.Subject == episode.Subject;

    private static bool Overlap(TrackedAlert alert, AlertEpisode episode) =>
        (alert.ClearedAt is not { } alertEnd || episode.BeganAt < alertEnd)
        && (episode.ClearedAt is not { } episodeEnd || alert.BeganAt < episodeEnd);
}
