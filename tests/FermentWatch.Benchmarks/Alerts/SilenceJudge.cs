using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Benchmarks.Alerts;

/// <summary>Judges <c>sensor-silent</c> by the true gaps of a recording.</summary>
internal static class SilenceJudge
{
    private static readonly TimeSpan Tick = TimeSpan.FromMinutes(5);

    /// <summary>How long a series may be silent.</summary>
    public static TimeSpan Limit(HeardSeries series, SensorSilentSettings limits) => series.Series.Quantity is QuantityKind.Gravity
        ? Longer(series.Interval * limits.GravityIntervals, limits.GravityAtLeast)
        : Longer(series.Interval * limits.TemperatureIntervals, limits.TemperatureAtLeast);

    /// <param name="recording">The recording.</param>
    /// <param name="from">From when on it was listened to.</param>
    /// <param name="raised">When the alert was raised for which sensor.</param>
    /// <param name="tally">Takes the counts, in intervals of the sensor.</param>
    public static void Judge(Recording recording, EventTime from, IReadOnlyList<(string Sensor, EventTime At)> raised, AlertTally tally)
    {
        foreach (var sensor in recording.Heard.Where(one => one.Readings.Count >= 3).GroupBy(one => one.Series.Sensor))
        {
            var interval = sensor.Max(one => one.Interval);
            var silences = Silences(recording, [.. sensor], interval).Where(silence => silence.Began >= from).ToList();
            var mine = raised.Where(one => one.Sensor == sensor.Key.Value).Select(one => one.At).ToList();
            foreach (var at in mine)
            {
                tally.Sent(silences.Any(silence => at >= silence.Began && at <= silence.Until + interval), $"{recording.Name} {at}");
            }

            // One that ends before the next pass could tell of it is true, and need not be told.
            foreach (var silence in silences.Where(silence => silence.Until - silence.From >= Tick))
            {
                var found = mine.Where(at => at >= silence.Began && at <= silence.Until + interval).Select(at => (TimeSpan?)(at - silence.From)).FirstOrDefault();
                tally.Wanted(found is { } late ? late / interval : null, $"{recording.Name} {silence.Began}");
            }
        }
    }

    /// <summary>Stretches in which a series of the sensor was missing for longer than its limit, up to the end of the recording: when the gap began, from when on that is too long, and its end.</summary>
    private static List<(EventTime Began, EventTime From, EventTime Until)> Silences(Recording recording, List<HeardSeries> series, TimeSpan interval)
    {
        var gaps = new List<(EventTime Began, EventTime From, EventTime Until)>();
        foreach (var one in series)
        {
            var limit = Limit(one, AlertSettings.Default.SensorSilent);
            var arrivals = one.Readings.Select(reading => new EventTime(reading.ReceivedAt.UnixMicroseconds)).Append(recording.End).ToList();
            for (var i = 1; i < arrivals.Count; i++)
            {
                if (arrivals[i] - arrivals[i - 1] >= limit)
                {
                    gaps.Add((arrivals[i - 1], arrivals[i - 1] + limit, arrivals[i]));
                }
            }
        }

        // What lies closer than the off-delay, or overlaps, is one silence.
        var merged = new List<(EventTime Began, EventTime From, EventTime Until)>();
        foreach (var gap in gaps.OrderBy(gap => gap.From))
        {
            if (merged.Count > 0 && gap.From <= merged[^1].Until + (interval * 6))
            {
                merged[^1] = merged[^1] with { Until = gap.Until > merged[^1].Until ? gap.Until : merged[^1].Until };
            }
            else
            {
                merged.Add(gap);
            }
        }

        return merged;
    }

    private static TimeSpan Longer(TimeSpan one, TimeSpan other) => one > other ? one : other;
}
