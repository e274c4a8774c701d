using System.Globalization;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Backtest;

namespace FermentWatch.Benchmarks.Ferments;

/// <summary>Scores two predictors without any skill on a set of recordings: how hard the set is.</summary>
/// <remarks>
/// <c>prior</c> is the median of what is assumed before any reading, with the original gravity and the tolerance that the maker told.
/// <c>slope</c> is the median of the last hour's readings, moved on by the straight line through the last 24 hours for another 24. Their
/// ranges are those of the prior, and two and five days of the slope; they decide nothing else.
/// </remarks>
internal static class NaiveFigure
{
    private const double DayHours = 24;

    private static readonly Quantiles<EventTime?> NoFinish = new(null, null, null, null, null);

    /// <summary>naive FOLDER: a table for each of the two.</summary>
    public static int Run(string[] arguments)
    {
        if (arguments.Length < 2)
        {
            Console.Error.WriteLine("naive FOLDER");
            return 2;
        }

        var paths = ReplayFolder.Find(arguments[1]);
        var truths = paths.Select(FermentTruth.Read).ToList();
        foreach (var (name, ends) in new (string, Func<ReplayFolder, ReplayCut, Quantiles<double?>>)[] { ("prior", OfPrior), ("slope", OfSlope) })
        {
            var told = paths.AsParallel().AsOrdered().WithDegreeOfParallelism(2).Select(ReplayFolder.Load).SelectMany(folder => folder.Cuts.Select(cut =>
                new Prediction(folder.Ferment, cut.Number, ends(folder, cut), NoFinish, "active", false, false, null))).ToList();
            var overall = BacktestScore.Of(truths, told)[0];
            Console.WriteLine($"== {name}, {truths.Count} recordings");
            foreach (var share in BacktestScore.Shares.Where(overall.AtShares.ContainsKey))
            {
                var at = overall.AtShares[share];
                Console.WriteLine(string.Create(
                    CultureInfo.InvariantCulture,
                    $"  {share,3} %  n {at.Count,4}  mean {at.MeanError,6:F2}  median {at.MedianError,6:F2}  interval score {at.IntervalScore,6:F2} points"));
            }
        }

        return 0;
    }

    private static Quantiles<double?> OfPrior(ReplayFolder folder, ReplayCut cut)
    {
        var batch = folder.Batch;
        var unread = new ForecastInput(
            batch.Kind, batch.InoculatedAt, batch.OriginalGravity, batch.Tolerance, ValueList.Of<GravityPoint>(), ValueList.Of<TemperaturePoint>(),
            ValueList.Of<TimelineEvent>(), PriorSnapshot.Shipped, batch.InoculatedAt);
        var ends = Forecaster.At(unread).FinalGravity;
        return new(ends.P05.Value, ends.P25.Value, ends.P50.Value, ends.P75.Value, ends.P95.Value);
    }

    private static Quantiles<double?> OfSlope(ReplayFolder folder, ReplayCut cut)
    {
        var readings = folder.FactsAt(cut).Series.Where(one => one.Series.Quantity == QuantityKind.Gravity).SelectMany(one => one.Readings)
            .Where(one => one.At <= cut.At).OrderBy(one => one.At).ToList();
        if (readings.Count == 0)
        {
            return OfPrior(folder, cut);
        }

        double HoursBack(Reading one) => (readings[^1].At - one.At).TotalHours;
        var hour = readings.Where(one => HoursBack(one) <= 1).Select(one => one.Value).Order().ToList();
        var last = hour[hour.Count / 2];
        var day = readings.Where(one => HoursBack(one) <= DayHours).ToList();
        var slope = SlopeTest.Through([.. day.Select(one => -HoursBack(one))], [.. day.Select(one => one.Value)])?.Slope ?? 0;
        var fall = Math.Max(0, -slope * DayHours);
        return new(last - (5 * fall) - 0.001, last - (2 * fall), last - fall, last, last + 0.001);
    }
}
