using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Inhibitions;

/// <summary>An alert that is told in the notice of another one.</summary>
/// <param name="Yields">Its index among the alerts.</param>
/// <param name="Host">Key of the alert whose notice tells of it.</param>
/// <param name="Because">Its evidence.</param>
/// <param name="IsNews">Whether it is told for the first time.</param>
internal sealed record Merged(int Yields, string Host, Reason Because, bool IsNews);

/// <summary>Lets the alert to which another one yields tell of both: once, in its own notice or, when that was sent before, in one more.</summary>
internal static class Merging
{
    /// <param name="alerts">The batch's alerts.</param>
    /// <param name="episodes">Episodes by key.</param>
    /// <param name="holds">What holds each alert back.</param>
    /// <param name="kinds">What is told of each alert in this pass; a host that has nothing of its own to say tells once more.</param>
    /// <param name="isQuiet">Whether an alert may not be told now.</param>
    /// <param name="isNight">Whether it is night: an urgent host says what it has to say then, but is not told once more for what can wait.</param>
    public static IReadOnlyList<Merged> Apply(
        ValueList<TrackedAlert> alerts,
        Dictionary<string, AlertEpisode> episodes,
        List<Held?> holds,
        List<TransitionKind?> kinds,
        Func<int, bool> isQuiet,
        bool isNight)
    {
        var merged = new List<Merged>();
        for (var i = 0; i < alerts.Count; i++)
        {
            var isUntold = alerts[i] is { Standing: AlertStanding.Raised, Told: not AlertStanding.Raised };
            if (!isUntold || holds[i]?.Into is not { } host || episodes.GetValueOrDefault(alerts[i].Key) is not { IsEasing: false } episode)
            {
                continue;
            }

            // Told once, it makes no notice any more, but stands in those of its host: a newer one replaces the older.
            var isNews = alerts[i].ToldIn is null;
            var other = Enumerable.Range(0, alerts.Count).First(j => alerts[j].Key == host);
            kinds[other] ??= !isNews ? null : alerts[other].Told is AlertStanding.Raised && !isNight && !isQuiet(other) ? TransitionKind.Repeated : null;
            if (kinds[other] is TransitionKind.Raised or TransitionKind.Repeated)
            {
                merged.Add(new Merged(i, host, episode.Because, isNews));
            }
        }

        return merged;
    }
}
