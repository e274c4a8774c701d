using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>A series with its silence after this pass.</summary>
internal sealed record WatchedSeries(SeriesListening Is, TimeSpan Interval);

/// <summary>A sensor with what was known before the pass and its silence after it.</summary>
internal sealed record WatchedSensor(SensorId Sensor, SensorListening Was, EventTime AttachedFrom, IReadOnlyList<WatchedSeries> Series)
{
    /// <summary>Time listened since anything of the sensor came in.</summary>
    public TimeSpan Silent => Series.Min(series => series.Is.Silent);

    public static WatchedSensor Of(
        SensorId sensor,
        IReadOnlyList<SensorStatus> statuses,
        AlertSet was,
        TimeSpan assumedInterval,
        Pass pass)
    {
        var known = was.Listening.FirstOrDefault(one => one.Sensor == sensor)
            ?? new SensorListening(sensor, AlertState.Start, ValueList.Of<SeriesListening>());
        return new WatchedSensor(
            sensor,
            known,
            statuses.Max(status => status.AttachedFrom),
            [
                .. statuses
                    .GroupBy(status => status.Quantity)
                    .OrderBy(series => series.Key)
                    .Select(series => Listen(series.Key, [.. series], known, assumedInterval, pass)),
            ]);
    }

    private static WatchedSeries Listen(
        QuantityKind quantity,
        IReadOnlyList<SensorStatus> statuses,
        SensorListening known,
        TimeSpan assumedInterval,
        Pass pass)
    {
        var was = known.Series.FirstOrDefault(one => one.Quantity == quantity);
        var newest = statuses.Max(status => status.LastReceivedAt);
        var interval = statuses.Max(status => status.MedianInterval) ?? assumedInterval;
        var newestAt = statuses.Max(status => status.LastAt);

        // After a wall clock went back, arrivals look older than the newest one: then the sample's own time tells.
        var isNew = newest is not null && (newest != was?.LastReceivedAt || newestAt > was?.LastAt);
        var silent = isNew || was is null
            ? Since(newest ?? new ReceivedAt(statuses.Max(status => status.AttachedFrom).UnixMicroseconds), pass)
            : was.Silent + pass.Listening;
        var heard = (was?.HeardSince ?? 0) + (isNew ? 1 : 0);
        return new WatchedSeries(new SeriesListening(quantity, newest, newestAt, silent, Math.Min(heard, 1000)), interval);
    }

    // The arrival lies within the listening time of this pass, whatever the wall clock says.
    private static TimeSpan Since(ReceivedAt arrival, Pass pass)
    {
        var span = pass.ClockTrusted ? pass.Now - arrival : TimeSpan.Zero;
        return span < TimeSpan.Zero ? TimeSpan.Zero : span > pass.Listening ? pass.Listening : span;
    }
}
