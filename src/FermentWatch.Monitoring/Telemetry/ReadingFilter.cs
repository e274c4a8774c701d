using FermentWatch.Monitoring.Batches;

namespace FermentWatch.Monitoring.Telemetry;

/// <summary>Turns the stored facts of a series into the readings that count: in event order, each once, corrections applied.</summary>
public static class ReadingFilter
{
    /// <summary>The readings of one series that belong to a batch and lie at or before <paramref name="until"/>.</summary>
    /// <remarks>
    /// The result depends on the set of facts alone: order of <paramref name="readings"/> and exact repeats change nothing.
    /// Readings with a device time are unique by event time, and the one that arrived last counts. Bare numbers are each kept.
    /// </remarks>
    /// <param name="readings">Facts of one series, in any order.</param>
    /// <param name="attachments">When the sensor was in the batch.</param>
    /// <param name="until">Last event time that counts.</param>
    public static Reading[] Normalize(IReadOnlyList<Reading> readings, ReadOnlySpan<SensorAttachment> attachments, EventTime until)
    {
        ArgumentNullException.ThrowIfNull(readings);
        var kept = new List<Reading>(readings.Count);
        for (var i = 0; i < readings.Count; i++)
        {
            var reading = readings[i];
            if (reading.At <= until && double.IsFinite(reading.Value) && IsCovered(reading.At, attachments))
            {
                kept.Add(reading);
            }
        }

        var sorted = kept.ToArray();
        if (!IsSorted(sorted))
        {
            Array.Sort(sorted, Compare);
        }

        return Unique(sorted);
    }

    private static bool IsCovered(EventTime at, ReadOnlySpan<SensorAttachment> attachments)
    {
        foreach (var attachment in attachments)
        {
            if (attachment.Covers(at))
            {
                return true;
            }
        }

        return false;
    }

    private static bool IsSorted(Reading[] readings)
    {
        for (var i = 1; i < readings.Length; i++)
        {
            if (Compare(readings[i - 1], readings[i]) > 0)
            {
                return false;
            }
        }

        return true;
    }

    // Event time and arrival number decide. The rest only makes the order complete, so that a broken store still gives one answer.
    private static int Compare(Reading left, Reading right)
    {
        var order = left.At.CompareTo(right.At);
        order = order != 0 ? order : left.Sequence.CompareTo(right.Sequence);
        order = order != 0 ? order : left.DeviceTime.HasValue.CompareTo(right.DeviceTime.HasValue);
        order = order != 0 ? order : left.ReceivedAt.CompareTo(right.ReceivedAt);
        order = order != 0 ? order : left.Value.CompareTo(right.Value);
        return order != 0 ? order : left.Raw.CompareTo(right.Raw);
    }

    private static Reading[] Unique(Reading[] sorted)
    {
        var count = 0;
        for (var i = 0; i < sorted.Length; i++)
        {
            var reading = sorted[i];
            if (count > 0 && sorted[count - 1].At == reading.At)
            {
                ref var last = ref sorted[count - 1];
                if (last.Sequence == reading.Sequence || (last.DeviceTime.HasValue && reading.DeviceTime.HasValue))
                {
                    last = reading;
                    continue;
                }
            }

            sorted[count++] = reading;
        }

        return count == sorted.Length ? sorted : sorted[..count];
    }
}
