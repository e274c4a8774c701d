using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Benchmarks.Alerts;

/// <summary>Listens through a recording in passes of five minutes, with nothing on but <c>sensor-silent</c>.</summary>
internal static class SilenceReplay
{
    private static readonly TimeSpan Tick = TimeSpan.FromMinutes(5);
    private static readonly AlertSettings Settings = AlertSettings.Default with { Only = ValueList.Of<string>(SensorSilentRule.Id), QuietHours = null };

    public static void Run(BatchFacts facts, string name, AlertTally tally)
    {
        var heard = facts.Series
            .Where(series => series.Series.Quantity is QuantityKind.Gravity or QuantityKind.Temperature && series.Readings.Count >= 3)
            .Select(series => new Heard(series.Series, [.. series.Readings.OrderBy(reading => reading.ReceivedAt)]))
            .ToList();
        if (heard.Count == 0)
        {
            return;
        }

        var raised = Live(facts.Batch, heard);
        foreach (var sensor in heard.GroupBy(one => one.Series.Sensor))
        {
            var interval = sensor.Max(one => one.Interval);
            var silences = Silences([.. sensor], interval);
            var mine = raised.Where(one => one.Sensor == sensor.Key).Select(one => one.At).ToList();
            foreach (var at in mine)
            {
                tally.Sent(silences.Any(silence => at >= silence.Began && at <= silence.Until + interval), name);
            }

            foreach (var silence in silences)
            {
                var found = mine.Where(at => at >= silence.Began && at <= silence.Until + interval).Select(at => (TimeSpan?)(at - silence.From)).FirstOrDefault();
                tally.Wanted(found is { } late ? late / interval : null, name);
            }
        }
    }

    private static List<(SensorId Sensor, ReceivedAt At)> Live(Batch batch, List<Heard> heard)
    {
        var raised = new List<(SensorId Sensor, ReceivedAt At)>();
        var set = AlertSet.Empty;
        var end = heard.Max(one => one.Readings[^1].ReceivedAt);
        for (var now = heard.Min(one => one.Readings[0].ReceivedAt); now <= end; now += Tick)
        {
            var result = Monitoring.Alerting.Alerts.Step(set, View(batch, heard, now), Settings, new Pass(now, Tick, TimeZoneInfo.Utc));
            raised.AddRange(result.Transitions.Where(one => one.Kind is TransitionKind.Raised).Select(one => (new SensorId(one.Alert.Subject), now)));
            set = result.Now;
        }

        return raised;
    }

    /// <summary>Stretches in which a series of the sensor was missing for longer than its limit: when the gap began, from when on that is too long, and its end.</summary>
    private static List<(ReceivedAt Began, ReceivedAt From, ReceivedAt Until)> Silences(List<Heard> series, TimeSpan interval)
    {
        var limits = AlertSettings.Default.SensorSilent;
        var gaps = new List<(ReceivedAt Began, ReceivedAt From, ReceivedAt Until)>();
        foreach (var one in series)
        {
            var limit = one.Series.Quantity is QuantityKind.Gravity
                ? Longer(one.Interval * limits.GravityIntervals, limits.GravityAtLeast)
                : Longer(one.Interval * limits.TemperatureIntervals, limits.TemperatureAtLeast);
            for (var i = 1; i < one.Readings.Count; i++)
            {
                var (before, after) = (one.Readings[i - 1].ReceivedAt, one.Readings[i].ReceivedAt);
                if (after - before >= limit + Tick)
                {
                    gaps.Add((before, before + limit, after));
                }
            }
        }

        // What lies closer than the off-delay, or overlaps, is one silence.
        var merged = new List<(ReceivedAt Began, ReceivedAt From, ReceivedAt Until)>();
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

    private static BatchView View(Batch batch, List<Heard> heard, ReceivedAt now) => new()
    {
        Batch = batch,
        Now = new EventTime(now.UnixMicroseconds),
        Phase = new PhaseAssessment(Phase.Unknown, Reason.Of(ReasonCodes.PhaseUnknownNoReadings), RatePerDay: null),
        Gravity = ValueList.Of<GravityPoint>(),
        SetAside = ValueList.Of<SetAsidePoint>(),
        Temperature = ValueList.Of<TemperaturePoint>(),
        GravityGaps = ValueList.Of<Gap>(),
        Events = ValueList.Of<TimelineEvent>(),
        Sensors = ValueList.Of(heard.Select(one => one.Status(batch, now))),
        Episodes = ValueList.Of<AlertEpisode>(),
        GravityCounts = default,
    };

    private static TimeSpan Longer(TimeSpan one, TimeSpan other) => one > other ? one : other;

    /// <summary>A series in order of arrival, read from the front as time goes on.</summary>
    private sealed class Heard(SeriesKey series, List<Reading> readings)
    {
        private int _next;

        public SeriesKey Series => series;

        public List<Reading> Readings => readings;

        public TimeSpan Interval { get; } = SampleOrder.MedianInterval([.. readings.OrderBy(reading => reading.At)], TimeSpan.FromMinutes(15));

        public SensorStatus Status(Batch batch, ReceivedAt now)
        {
            while (_next < readings.Count && readings[_next].ReceivedAt <= now)
            {
                _next++;
            }

            var attachment = batch.Sensors.First(one => one.Sensor == series.Sensor);
            return _next == 0
                ? new SensorStatus(series.Sensor, series.Quantity, attachment.Placement, null, null, null, new EventTime(now.UnixMicroseconds))
                : new SensorStatus(series.Sensor, series.Quantity, attachment.Placement, readings[_next - 1].At, readings[_next - 1].ReceivedAt, Interval, attachment.From);
        }
    }
}
