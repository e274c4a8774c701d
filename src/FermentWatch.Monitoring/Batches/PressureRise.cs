using FermentWatch.Monitoring.Batches.Cleaning;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Monitoring.Telemetry.Calibration;

namespace FermentWatch.Monitoring.Batches;

/// <summary>How the pressure in a closed vessel moves.</summary>
internal static class PressureRise
{
    private const int FewestReadings = 6;
    private const int MostReadings = 150;

    // A day, so that what the warmth of an afternoon adds is gone again by night.
    private static readonly TimeSpan Window = TimeSpan.FromHours(24);
    private static readonly TimeSpan Shortest = TimeSpan.FromHours(12);

    /// <summary>The least by which it rises a day, from the robust slope of the last day's readings; the sensor that rises most counts. Null when nothing can be told. [kPa/d]</summary>
    public static double? Of(IReadOnlyList<SeriesOfBatch> series, EventTime now)
    {
        double? most = null;
        foreach (var one in series.Where(one => one.Key.Quantity is QuantityKind.Pressure && Array.Exists(one.Attachments, attachment => attachment.Covers(now))))
        {
            var recent = one.Readings.Where(reading => reading.At <= now && now - reading.At <= Window && double.IsFinite(reading.Value)).ToList();
            if (recent.Count < FewestReadings || recent[^1].At - recent[0].At < Shortest)
            {
                continue;
            }

            var every = (recent.Count + MostReadings - 1) / MostReadings;
            var thin = recent.Where((_, i) => i % every == 0).ToList();
            var (_, low, _) = TheilSen.Interval(thin.ConvertAll(reading => (reading.At - now).TotalDays), thin.ConvertAll(reading => reading.Value));
            most = most is { } before && before > low ? before : low;
        }

        return most;
    }
}
