using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>
/// <c>sensor-silent</c>: a sensor of the batch sent no reading for longer than it should. Counts the time that we listened, so
/// neither our own downtime nor a jump of the wall clock is silence. Every sensor is a subject, all its series together. What a sensor
/// does again and again is expected of it (<see cref="SilenceHabit"/>), unless its silence would be urgent.
/// </summary>
public static class SensorSilentRule
{
    /// <summary>Id of the rule.</summary>
    public const string Id = "sensor-silent";

    // So near to a limit of temperature-danger its silence is urgent. Common practice, no source.
    private const double NearCelsius = 1;

    private static readonly TimeSpan ShortestStagger = TimeSpan.FromMinutes(30);

    /// <summary>The catalogue's entry.</summary>
    public static AlertRule Rule { get; } = new(Id, settings => settings.SensorSilent.Repeat, OnSamples: null, Tick, SensorSilentNotice.Words, IsToldTogether: true);

    /// <summary>The shortest silence among the batch's sensors that are over their own limit in this pass; null when none is.</summary>
    public static TimeSpan? ShortestSilence(AlertSet was, BatchView view, AlertSettings settings, Pass pass) =>
        settings.SensorSilent.Enabled
            ? Watched(was, view, settings, pass)
                .Where(IsOverLimit)
                .Select(sensor => (TimeSpan?)sensor.Silent)
                .Min()
            : null;

    private static TickResult Tick(AlertSet was, BatchView view, AlertSettings settings, Pass pass)
    {
        var at = RuleTime.Of(was.Listened + pass.Listening);
        var limits = settings.SensorSilent;
        var sensors = limits.Enabled ? Watched(was, view, settings, pass) : [];
        var standing = new List<AlertEpisode>();
        var listening = new List<SensorListening>();
        var ended = new Dictionary<string, Reason>();
        foreach (var sensor in sensors)
        {
            var hasCompany = IsTogether(sensor, pass.SilentElsewhere)
                || sensors.Any(other => other.Sensor != sensor.Sensor && IsOverLimit(other) && IsTogether(sensor, other.Silent));
            var patience = Chattering.Count(was, Id, sensor.Sensor.Value) >= Chattering.Times ? Chattering.Patience : 1;
            var moved = Move(sensor, hasCompany, at, limits, patience);
            listening.Add(moved);
            if (moved.State.Stands)
            {
                standing.Add(Episode(sensor, moved, view, pass));
            }
            else if (sensor.Was.State.Stands)
            {
                ended[sensor.Sensor.Value] = Reason.Of("sensor-heard-again", new ReasonValue.Name(sensor.Sensor.Value));
            }
        }

        foreach (var gone in was.Listening.Where(one => one.State.Stands && sensors.All(sensor => sensor.Sensor != one.Sensor)))
        {
            ended[gone.Sensor.Value] = Reason.Of(
                "sensor-detached", new ReasonValue.Name(gone.Sensor.Value), new ReasonValue.Moment(view.Now));
        }

        return new TickResult(was with { Listening = ValueList.Of(listening), Listened = was.Listened + pass.Listening }, standing, ended);
    }

    private static SensorListening Move(WatchedSensor sensor, bool hasCompany, RuleTime at, SensorSilentSettings limits, int patience)
    {
        var isSilent = IsOverLimit(sensor)
            || (hasCompany && sensor.Series.All(series => series.Is.Silent >= Company(series.Interval, limits)));
        var series = sensor.Series
            .Select(one => isSilent && one.Is.Silent >= Company(one.Interval, limits) ? one.Is with { HeardSince = 0 } : one.Is)
            .ToList();
        var condition = isSilent ? Condition.Holds
            : series.Any(one => one.HeardSince < limits.ClearReadings) ? Condition.Between
            : Condition.Clear;
        var off = sensor.Series.Max(one => one.Interval) * limits.OffDelayIntervals * patience;
        var timing = new AlertTiming(Hold.None, new Hold(off, 0), GapLimit: TimeSpan.MaxValue);
        return new SensorListening(sensor.Sensor, sensor.Was.State.Next(condition, at, timing), ValueList.Of(series));
    }

    private static bool IsOverLimit(WatchedSensor sensor) => sensor.Series.Any(series => series.IsOverLimit);

    /// <summary>Whether the sensor fell silent with another: about as long ago, by its own interval.</summary>
    private static bool IsTogether(WatchedSensor sensor, TimeSpan? other) => other is { } silence
        && (silence - sensor.Silent).Duration() <= Longer(sensor.Series.Max(series => series.Interval) * 2, ShortestStagger);

    private static TimeSpan Company(TimeSpan interval, SensorSilentSettings limits) =>
        Longer(interval * limits.CompanyIntervals, limits.CompanyAtLeast);

    private static TimeSpan Longer(TimeSpan one, TimeSpan other) => one > other ? one : other;

    private static AlertEpisode Episode(WatchedSensor sensor, SensorListening moved, BatchView view, Pass pass)
    {
        var longest = moved.Series.MaxBy(series => series.Silent)!;
        var name = new ReasonValue.Name(sensor.Sensor.Value);
        var length = new ReasonValue.Length(longest.Silent);
        var since = longest.LastReceivedAt is { } last ? new EventTime(last.UnixMicroseconds) : sensor.AttachedFrom;
        var habit = sensor.Series.Max(series => series.Habit);
        var because = longest.LastReceivedAt is null ? Reason.Of("sensor-never-heard", name, length, new ReasonValue.Moment(since))
            : habit is { } usual ? Reason.Of("sensor-silent-beyond-habit", name, length, new ReasonValue.Moment(since), new ReasonValue.Length(usual))
            : Reason.Of("sensor-silent", name, length, new ReasonValue.Moment(since));
        return new AlertEpisode(
            Id, sensor.Sensor.Value, sensor.IsUrgent ? Severity.Urgent : Severity.Warning, since, new EventTime(pass.Now.UnixMicroseconds), ClearedAt: null, because);
    }

    /// <summary>Urgent when the last thing we knew was that it is close to a limit of its stage, and nothing else tells: heat is one of a ferment, frost of any full glass.</summary>
    private static bool IsUrgent(SensorId sensor, BatchView view, TemperatureDangerSettings danger)
    {
        var temperatures = view.Sensors.Where(status => status.Quantity is QuantityKind.Temperature).ToList();
        var measuresTemperature = temperatures.Exists(status => status.Sensor == sensor);
        var isOnlySource = temperatures.TrueForAll(status => status.Placement is Placement.Room || status.Sensor == sensor);
        var isClose = view.LatestTemperature is { } latest
            && (latest.Value.Celsius <= danger.FreezingCelsius + NearCelsius
                || (latest.Value.Celsius >= danger.HotCelsius - NearCelsius && view.Stage is null or { Stage: BatchStage.Fermenting or BatchStage.Malolactic }));
        return measuresTemperature && isOnlySource && isClose;
    }

    private static List<WatchedSensor> Watched(AlertSet was, BatchView view, AlertSettings settings, Pass pass) =>
    [
        .. view.Sensors
            .Where(status => status.Quantity is QuantityKind.Temperature or QuantityKind.Gravity)
            .Where(status => IsAttached(status, was, view, pass))
            .GroupBy(status => status.Sensor)
            .OrderBy(sensor => sensor.Key.Value, StringComparer.Ordinal)
            .Select(sensor => WatchedSensor.Of(sensor.Key, [.. sensor], was, settings.SensorSilent, IsUrgent(sensor.Key, view, settings.TemperatureDanger), pass)),
    ];

    // A clock that is wrong neither detaches a sensor nor takes it for one of the future.
    private static bool IsAttached(SensorStatus status, AlertSet was, BatchView view, Pass pass)
    {
        var attachments = view.Batch.Sensors.Where(attachment => attachment.Sensor == status.Sensor).ToList();
        return attachments.Count > 0
            && (!pass.ClockTrusted
                || attachments.Any(attachment => attachment.Covers(view.Now))
                || (attachments.Any(attachment => attachment.Until is null)
                    && was.Listening.Any(known => known.Sensor == status.Sensor)));
    }
}
