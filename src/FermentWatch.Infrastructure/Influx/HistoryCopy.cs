using System.Diagnostics;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Influx;

/// <summary>What a copy of the history did.</summary>
/// <param name="Points">Points written.</param>
/// <param name="SetAside">Points left out, with the reason of each, at most 100 of them.</param>
/// <param name="Took">How long it took.</param>
/// <param name="Problem">Why it ended early; null when all was copied.</param>
public sealed record HistoryCopyReport(long Points, IReadOnlyList<string> SetAside, TimeSpan Took, string? Problem);

/// <summary>Copies everything from a day on, beside the service and its cursor: for a server that lost what it had.</summary>
public static class HistoryCopy
{
    private const int MostToldAside = 100;

    /// <summary>Copies.</summary>
    /// <param name="history">What there is.</param>
    /// <param name="target">Where to.</param>
    /// <param name="quantityWord">The word of a quantity, as in the settings.</param>
    /// <param name="clock">Names the time of the probe.</param>
    /// <param name="cancellationToken">Ends it; what was written stays.</param>
    public static async Task<HistoryCopyReport> RunAsync(
        ChangeHistory history, InfluxTarget target, Func<QuantityKind, string> quantityWord, TimeProvider clock, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(history);
        ArgumentNullException.ThrowIfNull(target);
        var began = Stopwatch.GetTimestamp();
        var lines = new FactLines(target.Settings.Site, quantityWord);
        var writer = new LineWriter(target, InfluxCopier.Probe(target.Settings.Site, clock));
        var aside = new List<string>();
        long points = 0;
        var place = default(ChangePlace);
        while (true)
        {
            var step = history.Read(place, InfluxCopier.FactsAtATime);
            var result = await writer.WriteAsync([.. step.Facts.SelectMany(lines.Of)], cancellationToken);
            points += result.Points;
            aside.AddRange(result.SetAside.Take(MostToldAside - aside.Count));
            if (result.Trouble is not null || step.IsLast)
            {
                return new HistoryCopyReport(points, aside, Stopwatch.GetElapsedTime(began), InfluxCopier.ProblemOf(result.Trouble));
            }

            place = step.Next;
        }
    }
}
