using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>A series with its silence after this pass.</summary>
/// <param name="Is">Its silence.</param>
/// <param name="Interval">Its own interval.</param>
/// <param name="Usual">How long a series of that interval may be silent.</param>
/// <param name="Habit">How long it is silent again and again, where that is longer and counts.</param>
internal sealed record WatchedSeries(SeriesListening Is, TimeSpan Interval, TimeSpan Usual, TimeSpan? Habit = null)
{
    /// <summary>Whether it is silent for too long.</summary>
    public bool IsOverLimit => Is.Silent >= (Habit ?? Usual);
}

/// <summary>A sensor with what was known before the pass and its silence after it.</summary>
internal sealed record WatchedSensor(SensorId Sensor, SensorListening Was, EventTime AttachedFrom, bool IsUrgent, IReadOnlyList<WatchedSeries> Series)
{
    /// <summary>Time listened since anything of the sensor came in.</summary>
    public TimeSpan Silent => Series.Min(series => series.Is.Silent);

    public static WatchedSensor Of(
        SensorId sensor,
        IReadOnlyList<SensorStatus> statuses,
        AlertSet was,
        SensorSilentSettings limits,
        bool isUrgent,
        Pass pass)
    {
        var known = was.Listening.FirstOrDefault(one => one.Sensor == sensor)
            ?? new SensorListening(sensor, AlertState.Start, ValueList.Of<SeriesListening>());
        return new WatchedSensor(
            sensor,
            known,
            statuses.Max(status => status.AttachedFrom),
            isUrgent,
            [
                .. statuses
                    .GroupBy(status => status.Quantity)
                    .OrderBy(series => series.Key)
                    .Select(series => Listen(series.Key, [.. series], known, was.Listened + pass.Listening, limits, pass))
                    .Select(series => isUrgent ? series : series with { Habit = SilenceHabit.Of(series, series.Usual, limits) }),
            ]);
    }

    private static WatchedSeries Listen(
        QuantityKind quantity,
        IReadOnlyList<SensorStatus> statuses,
        SensorListening known,
        TimeSpan listened,
        SensorSilentSettings limits,
        Pass pass)
    {
        var was = known.Series.FirstOrDefault(one => one.Quantity == quantity);
        var newest = statuses.Max(status => status.LastReceivedAt);
        var interval = statuses.Max(status => status.MedianInterval) ?? limits.AssumedInterval;
        var newestAt = statuses.Max(status => status.LastAt);

        // After a wall clock went back, arrivals look older than the newest one: then the sample's own time tells.
        var isNew = newest is not null && (newest != was?.LastReceivedAt || newestAt > was?.LastAt);
        var silent = isNew || was is null
            ? Since(newest ?? new ReceivedAt(statuses.Max(status => status.AttachedFrom).UnixMicroseconds), pass)
            : was.Silent + pass.Listening;
        var heard = (was?.HeardSince ?? 0) + (isNew ? 1 : 0);
        var usual = quantity is QuantityKind.Gravity
            ? Longer(interval * limits.GravityIntervals, limits.GravityAtLeast)
            : Longer(interval * limits.TemperatureIntervals, limits.TemperatureAtLeast);
        return new WatchedSeries(
            new SeriesListening(quantity, newest, newestAt, silent, Math.Min(heard, 1000)) { Pauses = SilenceHabit.Note(was, isNew, usual, listened, limits) },
            interval,
            usual);
    }

    private static TimeSpan Longer(TimeSpan one, TimeSpan other) => one > other ? one : other;

    // The arrival lies within the listening time of this pass, whatever the wall clock says.
    private static TimeSpan Since(ReceivedAt arrival, Pass pass)
    {
        var span = pass.ClockTrusted ? pass.Now - arrival : TimeSpan.Zero;
        return span < TimeSpan.Zero ? TimeSpan.Zero : span > pass.Listening ? pass.Listening : span;
    }
}
