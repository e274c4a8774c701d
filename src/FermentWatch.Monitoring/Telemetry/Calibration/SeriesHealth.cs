using FermentWatch.Monitoring.Batches.Cleaning;

namespace FermentWatch.Monitoring.Telemetry.Calibration;

/// <summary>How a series is heard.</summary>
/// <param name="MedianInterval">Median time between its newest readings; null with fewer than three.</param>
/// <param name="Median">Median of the values; null without any.</param>
/// <param name="Lowest">Lowest value; null without any.</param>
public sealed record SeriesHealth(TimeSpan? MedianInterval, double? Median, double? Lowest)
{
    /// <summary>Sums up readings in time order.</summary>
    public static SeriesHealth Of(IReadOnlyList<Reading> readings)
    {
        ArgumentNullException.ThrowIfNull(readings);
        var sorted = readings.OrderBy(reading => reading.At).ThenBy(reading => reading.Sequence).ToArray();
        var hours = Intervals.MedianHours(sorted);
        return new SeriesHealth(
            hours > 0 ? TimeSpan.FromMicroseconds(Math.Round(hours * 3.6e9)) : null,
            sorted.Length == 0 ? null : Hampel.MedianInPlace(sorted.Select(reading => reading.Value).ToArray()),
            sorted.Length == 0 ? null : sorted.Min(reading => reading.Value));
    }
}
