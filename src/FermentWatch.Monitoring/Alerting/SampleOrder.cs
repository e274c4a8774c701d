using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>The samples of one attached sensor in event order, each once, the latest correction of each.</summary>
public static class SampleOrder
{
    /// <summary>Samples of a quantity within an attachment, up to <paramref name="now"/>.</summary>
    public static IReadOnlyList<Reading> Of(
        SensorAttachment attachment,
        QuantityKind quantity,
        IReadOnlyList<SeriesReadings> series,
        EventTime now)
    {
        var key = new SeriesKey(attachment.Sensor, quantity);
        var within = series
            .Where(one => one.Series == key)
            .SelectMany(one => one.Readings)
            .Where(reading => reading.At <= now && attachment.Covers(reading.At))
            .ToList();
        if (IsRising(within))
        {
            return within;
        }

        within = [.. within.Distinct()];
        var stamped = within.Where(reading => reading.DeviceTime is not null)
            .GroupBy(reading => reading.At)
            .Select(sameTime => sameTime.OrderBy(reading => reading.Sequence).ThenBy(reading => reading.Raw).Last());
        var bare = within.Where(reading => reading.DeviceTime is null);

        // The value decides last, so that even readings which share time and number have one order.
        return [.. stamped.Concat(bare).OrderBy(reading => reading.At).ThenBy(reading => reading.Sequence).ThenBy(reading => reading.Value)];
    }

    /// <summary>As the view hands them over: one sample a moment, in order; nothing is left to do.</summary>
    private static bool IsRising(List<Reading> samples)
    {
        for (var i = 1; i < samples.Count; i++)
        {
            if (samples[i].At <= samples[i - 1].At)
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>Median interval between samples, or <paramref name="assumed"/> with fewer than three.</summary>
    public static TimeSpan MedianInterval(IReadOnlyList<Reading> ordered, TimeSpan assumed)
    {
        if (ordered.Count < 3)
        {
            return assumed;
        }

        var intervals = new long[ordered.Count - 1];
        for (var i = 1; i < ordered.Count; i++)
        {
            intervals[i - 1] = ordered[i].At.UnixMicroseconds - ordered[i - 1].At.UnixMicroseconds;
        }

        Array.Sort(intervals);
        return TimeSpan.FromMicroseconds(intervals[intervals.Length / 2]);
    }
}
