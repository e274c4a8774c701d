using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Benchmarks.Alerts;

/// <summary>
/// A recording as the running service would see it, where an answer can change: the forecast once a day, and twice about the end of the ferment;
/// every rule on samples every six hours and at each sample at which an alert begins or ends; silence every hour and every five minutes where one may begin or end.
/// </summary>
internal sealed class ReplayViews(Recording recording, ViewSettings settings)
{
    private static readonly TimeSpan Coarse = TimeSpan.FromHours(24);
    private static readonly TimeSpan HalfDay = TimeSpan.FromHours(12);
    private static readonly TimeSpan Fine = TimeSpan.FromHours(6);
    private static readonly TimeSpan Hour = TimeSpan.FromHours(1);
    private static readonly TimeSpan Tick = TimeSpan.FromMinutes(5);

    /// <summary>How often each kind of look was taken.</summary>
    public (int Judged, int Glanced, int Ticked) Counts { get; private set; }

    /// <summary>The views in order of time.</summary>
    public IEnumerable<BatchView> All()
    {
        var judged = Judged();
        var glances = Glances(judged.Values[^1]).ToHashSet();
        var ticks = Ticks().ToHashSet();
        Counts = (judged.Count, glances.Count, ticks.Count);
        BatchView? judgment = null;
        BatchView? seen = null;
        foreach (var at in judged.Keys.Concat(glances).Concat(ticks).Distinct().Order())
        {
            seen = judged.TryGetValue(at, out var found) ? judgment = found
                : judgment is null ? null
                : glances.Contains(at) ? BatchAnalysis.Glance(recording.FactsAt(at), settings, at, judgment)
                : seen! with { Now = at, Sensors = Heard(seen!.Sensors, at) };
            if (seen is not null)
            {
                yield return seen;
            }
        }
    }

    private SortedList<EventTime, BatchView> Judged()
    {
        var found = new SortedList<EventTime, BatchView>();
        void Look(EventTime at) => found.TryAdd(at, BatchAnalysis.View(recording.FactsAt(at), settings, PriorSnapshot.Shipped, at));
        var start = recording.Cuts.First();
        Look(start);
        for (var at = start + Coarse; at < recording.End; at += Coarse)
        {
            Look(at);
        }

        Look(recording.End);
        var coarse = found.ToList();
        for (var i = 1; i < coarse.Count; i++)
        {
            // Holds last up to a day: after two days of the same answer nothing begins any more.
            var isSettled = i >= 3 && Enumerable.Range(i - 3, 3).All(k => IsSettled(coarse[k].Value, coarse[i].Value));
            if (!isSettled && (IsNearTheEnd(coarse[i - 1].Value) || IsNearTheEnd(coarse[i].Value)))
            {
                for (var at = coarse[i - 1].Key + HalfDay; at < coarse[i].Key; at += HalfDay)
                {
                    Look(at);
                }
            }
        }

        return found;
    }

    private static bool IsNearTheEnd(BatchView view) => view.Stop is { Finished: > 0.4 } or { Stuck: > 0.4 };

    /// <summary>Both say the same, so that nothing begins or ends between them.</summary>
    private static bool IsSettled(BatchView one, BatchView other) => Answer(one) == Answer(other) && Answer(one) is not "between";

    private static string Answer(BatchView view) => view.Phase.Phase is Phase.Unknown ? "between" : view.Stop switch
    {
        { IsReadyToStabilize: true, Finished: >= 0.97, Stuck: < 0.05 } => "ready",
        { Stuck: >= 0.95 } => "stuck",
        _ => "between",
    };

    private IEnumerable<EventTime> Glances(BatchView last)
    {
        for (var at = recording.Cuts.First(); at < recording.End; at += Fine)
        {
            yield return at;
        }

        foreach (var episode in last.Episodes)
        {
            yield return recording.ArrivalOf(episode.RaisedAt);
            if (episode.ClearedAt is { } over)
            {
                yield return recording.ArrivalOf(over);
            }
        }
    }

    private IEnumerable<EventTime> Ticks()
    {
        for (var at = recording.Cuts.First(); at < recording.End; at += Hour)
        {
            yield return at;
        }

        var limits = settings.Alerts.SensorSilent;
        foreach (var series in recording.Heard)
        {
            for (var i = 1; i < series.Readings.Count; i++)
            {
                var (before, after) = (At(series.Readings[i - 1]), At(series.Readings[i]));
                if (after - before >= limits.CompanyAtLeast)
                {
                    foreach (var moment in Around(before + SilenceJudge.Limit(series, limits), before + limits.HabitAtMost + Tick, after).Concat(Arrivals(series, i)))
                    {
                        yield return moment;
                    }
                }
            }
        }
    }

    /// <summary>Every five minutes from shortly before the moment from which a silence is too long until no habit excuses it any more.</summary>
    private static IEnumerable<EventTime> Around(EventTime limit, EventTime last, EventTime after)
    {
        for (var at = limit - (Tick * 3); (at <= limit + (Tick * 3) || at <= last) && at < after; at += Tick)
        {
            yield return at;
        }
    }

    /// <summary>The readings after a silence, one by one, and when the off-delay is over.</summary>
    private static IEnumerable<EventTime> Arrivals(HeardSeries series, int first) => Enumerable.Range(first, 6)
        .Where(i => i < series.Readings.Count).Select(i => At(series.Readings[i]));

    private static EventTime At(Reading reading) => new(reading.ReceivedAt.UnixMicroseconds);

    private ValueList<SensorStatus> Heard(ValueList<SensorStatus> known, EventTime at) => ValueList.Of(known.Select(status =>
        recording.Heard.FirstOrDefault(one => one.Series == new SeriesKey(status.Sensor, status.Quantity))?.LastAt(at) is { } last
            ? status with { LastAt = last.At, LastReceivedAt = last.ReceivedAt }
            : status));
}
