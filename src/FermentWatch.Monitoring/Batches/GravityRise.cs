using FermentWatch.Monitoring.Batches.Cleaning;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches;

/// <summary>How far gravity went up after sweetening, as sensors showed it: the curve itself takes slow rises for a sensor that drifts.</summary>
internal static class GravityRise
{
    // Four blocks, so that day and night lie in each window.
    private static readonly TimeSpan Block = TimeSpan.FromHours(6);
    private const int Blocks = 4;
    private const int FewestBlocks = 3;

    /// <summary>
    /// The most by which the median of a block of six hours lies above that of an earlier one, within the last day and from six hours after sweetening on, when the stir
    /// is over; the sensor that shows most counts. Null when nothing can be told. [points]
    /// </summary>
    public static double? Of(IReadOnlyList<SeriesOfBatch> series, StageSpan stage, IReadOnlyList<JournalEntry> journal, EventTime now)
    {
        if (stage.Stage is not BatchStage.SweetenedWatch || journal.LastOrDefault(entry => entry.Kind is JournalKind.Sweetened && entry.At <= now) is not { } sweetened)
        {
            return null;
        }

        double? most = null;
        var from = sweetened.At + Block;
        foreach (var one in series.Where(one => one.Key.Quantity is QuantityKind.Gravity && Array.Exists(one.Attachments, attachment => attachment.Covers(now))))
        {
            var blocks = one.Readings.Where(reading => reading.At > from && reading.At <= now && now - reading.At < Block * Blocks && double.IsFinite(reading.Value))
                .GroupBy(reading => (int)((now - reading.At) / Block))
                .OrderByDescending(block => block.Key)
                .Select(block => Hampel.MedianInPlace(block.Select(reading => (reading.Value - 1) * 1000).ToArray()))
                .ToList();
            if (blocks.Count >= FewestBlocks)
            {
                most = Math.Max(most ?? 0, Up(blocks));
            }
        }

        return most;
    }

    private static double Up(List<double> blocks)
    {
        var (up, lowest) = (0.0, double.PositiveInfinity);
        foreach (var points in blocks)
        {
            lowest = Math.Min(lowest, points);
            up = Math.Max(up, points - lowest);
        }

        return up;
    }
}
