using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>Normalized readings of one series of a batch.</summary>
internal sealed record SeriesOfBatch(SeriesKey Key, SensorAttachment[] Attachments, Reading[] Readings);

/// <summary>Sorts the facts of a batch by series and tells how each sensor is heard.</summary>
internal static class SensorListing
{
    // Gaps that are kept, and the shortest that is one: common practice, no source.
    private const int KeptGaps = 8;
    private const double GapIntervals = 3;
    private static readonly TimeSpan ShortestGap = TimeSpan.FromMinutes(20);

    /// <summary>One entry for each series that the facts hold, by sensor name and quantity.</summary>
    public static List<SeriesOfBatch> Series(BatchFacts facts, EventTime until)
    {
        var bySeries = new Dictionary<SeriesKey, IReadOnlyList<Reading>>();
        foreach (var series in facts.Series)
        {
            if (!bySeries.TryGetValue(series.Series, out var known))
            {
                bySeries[series.Series] = series.Readings;
                continue;
            }

            List<Reading> both = [.. known, .. series.Readings];
            bySeries[series.Series] = both;
        }

        var list = new List<SeriesOfBatch>();
        foreach (var (key, readings) in bySeries)
        {
            var attachments = AttachmentsOf(facts.Batch, key.Sensor);
            if (attachments.Length > 0)
            {
                list.Add(new SeriesOfBatch(key, attachments, ReadingFilter.Normalize(readings, attachments, until)));
            }
        }

        list.Sort((left, right) => string.CompareOrdinal(left.Key.Sensor.Value, right.Key.Sensor.Value) is var order and not 0
            ? order
            : left.Key.Quantity.CompareTo(right.Key.Quantity));
        return list;
    }

    /// <summary>How each sensor that is attached at <paramref name="now"/> is heard; one that never sent anything is listed too.</summary>
    public static ValueList<SensorStatus> Statuses(Batch batch, IReadOnlyList<SeriesOfBatch> series, EventTime now)
    {
        var list = new List<SensorStatus>();
        foreach (var attachment in batch.Sensors)
        {
            if (!attachment.Covers(now))
            {
                continue;
            }

            var count = list.Count;
            foreach (var one in series)
            {
                if (one.Key.Sensor == attachment.Sensor)
                {
                    list.Add(StatusOf(one, attachment));
                }
            }

            // Nothing was ever heard of it, so what it would measure is guessed from where it sits.
            if (list.Count == count)
            {
                var quantity = attachment.Placement == Placement.InLiquid ? QuantityKind.Gravity : QuantityKind.Temperature;
                list.Add(new SensorStatus(attachment.Sensor, quantity, attachment.Placement, null, null, null, attachment.From));
            }
        }

        list.Sort(Compare);
        return ValueList.Of(list);
    }

    private static SensorStatus StatusOf(SeriesOfBatch series, SensorAttachment attachment)
    {
        ReceivedAt? received = null;
        EventTime? last = null;
        var interval = Intervals.MedianHours(series.Readings);
        TimeSpan? usual = double.IsNaN(interval) || interval <= 0 ? null : TimeSpan.FromMicroseconds(Math.Round(interval * 3.6e9));
        var longest = usual * GapIntervals is { } habit && habit > ShortestGap ? habit : ShortestGap;
        var gaps = new Queue<Gap>();
        foreach (var reading in series.Readings)
        {
            if (attachment.Covers(reading.At))
            {
                if (last is { } before && reading.At - before > longest)
                {
                    gaps.Enqueue(new Gap(before, reading.At));
                    if (gaps.Count > KeptGaps)
                    {
                        gaps.Dequeue();
                    }
                }

                received = received is { } newest && newest >= reading.ReceivedAt ? newest : reading.ReceivedAt;
                last = reading.At;
            }
        }

        return new SensorStatus(
            series.Key.Sensor,
            series.Key.Quantity,
            attachment.Placement,
            last,
            received,
            usual,
            attachment.From)
        {
            Gaps = ValueList.Of<Gap>(gaps),
        };
    }

    private static SensorAttachment[] AttachmentsOf(Batch batch, SensorId sensor)
    {
        var found = new List<SensorAttachment>();
        foreach (var attachment in batch.Sensors)
        {
            if (attachment.Sensor == sensor)
            {
                found.Add(attachment);
            }
        }

        return [.. found];
    }

    private static int Compare(SensorStatus left, SensorStatus right)
    {
        var order = string.CompareOrdinal(left.Sensor.Value, right.Sensor.Value);
        order = order != 0 ? order : left.Quantity.CompareTo(right.Quantity);
        return order != 0 ? order : left.AttachedFrom.CompareTo(right.AttachedFrom);
    }
}
