using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>How often a sensor sends.</summary>
internal static class Intervals
{
    // The newest ones only: a sensor may be told to send more often.
    private const int MostIntervals = 500;

    /// <summary>Median interval between event times, or NaN with fewer than three readings. [h]</summary>
    public static double MedianHours(ReadOnlySpan<Reading> readings)
    {
        if (readings.Length < 3)
        {
            return double.NaN;
        }

        var count = Math.Min(MostIntervals, readings.Length - 1);
        var intervals = new double[count];
        for (var i = 0; i < count; i++)
        {
            var at = readings.Length - 1 - i;
            intervals[i] = (readings[at].At.UnixMicroseconds - readings[at - 1].At.UnixMicroseconds) / 3.6e9;
        }

        return Hampel.MedianInPlace(intervals);
    }
}
