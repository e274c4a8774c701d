using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Inhibitions;

/// <summary>An alert that is told in the notice of another one.</summary>
/// <param name="Yields">Its index among the alerts.</param>
/// <param name="Host">Key of the alert whose notice tells of it.</param>
/// <param name="Because">Its evidence.</param>
internal sealed record Merged(int Yields, string Host, Reason Because);

/// <summary>Lets the alert to which another one yields tell of both: once, in its own notice or, when that was sent before, in one more.</summary>
internal static class Merging
{
    /// <param name="alerts">The batch's alerts.</param>
    /// <param name="episodes">Episodes by key.</param>
    /// <param name="holds">What holds each alert back.</param>
    /// <param name="kinds">What is told of each alert in this pass; a host that has nothing of its own to say tells once more.</param>
    /// <param name="isQuiet">Whether an alert may not be told now.</param>
    public static IReadOnlyList<Merged> Apply(
        ValueList<TrackedAlert> alerts,
        Dictionary<string, AlertEpisode> episodes,
        List<Held?> holds,
        List<TransitionKind?> kinds,
        Func<int, bool> isQuiet)
    {
        var merged = new List<Merged>();
        for (var i = 0; i < alerts.Count; i++)
        {
            var isNews = alerts[i] is { Standing: AlertStanding.Raised, Told: not AlertStanding.Raised, ToldIn: null };
            if (!isNews || holds[i]?.Into is not { } host || episodes.GetValueOrDefault(alerts[i].Key) is not { IsEasing: false } episode)
            {
                continue;
            }

            var other = Enumerable.Range(0, alerts.Count).First(j => alerts[j].Key == host);
            kinds[other] ??= alerts[other].Told is AlertStanding.Raised && !isQuiet(other) ? TransitionKind.Repeated : null;
            if (kinds[other] is TransitionKind.Raised or TransitionKind.Repeated)
            {
                merged.Add(new Merged(i, host, episode.Because));
            }
        }

        return merged;
    }
}
