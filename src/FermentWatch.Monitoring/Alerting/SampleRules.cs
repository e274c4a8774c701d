using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>The rules that live on the samples' time line, run over a set of facts.</summary>
public static class SampleRules
{
    /// <summary>
    /// Every episode of every rule on samples up to <paramref name="now"/>, in order of the time at which it was raised.
    /// A function of the set of readings: order of arrival and exact repeats change nothing.
    /// </summary>
    /// <param name="batch">The batch with its band and sensors.</param>
    /// <param name="series">Readings of its sensors.</param>
    /// <param name="settings">Delays and limits.</param>
    /// <param name="now">Later samples do not count yet.</param>
    public static ValueList<AlertEpisode> Episodes(
        Batch batch,
        IReadOnlyList<SeriesReadings> series,
        AlertSettings settings,
        EventTime now) =>
        ValueList.Of(AlertRuleCatalog.All
            .Where(rule => rule.OnSamples is not null)
            .SelectMany(rule => rule.OnSamples!(batch, series, settings, now))
            .OrderBy(episode => episode.RaisedAt)
            .ThenBy(episode => episode.Rule, StringComparer.Ordinal)
            .ThenBy(episode => episode.Subject, StringComparer.Ordinal));
}
