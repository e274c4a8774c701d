using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>The rules that live on the samples' time line, run over a set of facts.</summary>
public static class SampleRules
{
    /// <summary>
    /// Every episode of every rule on samples up to the moment of the facts, in order of the time at which it was raised.
    /// A function of the set of readings: order of arrival and exact repeats change nothing.
    /// </summary>
    /// <param name="facts">What the rules see.</param>
    /// <param name="settings">Delays and limits.</param>
    public static ValueList<AlertEpisode> Episodes(SampleFacts facts, AlertSettings settings) =>
        ValueList.Of(AlertRuleCatalog.All
            .Where(rule => rule.OnSamples is not null && settings.IsOn(rule.Id))
            .SelectMany(rule => rule.OnSamples!(facts, settings))
            .OrderBy(episode => episode.RaisedAt)
            .ThenBy(episode => episode.Rule, StringComparer.Ordinal)
            .ThenBy(episode => episode.Subject, StringComparer.Ordinal));
}
