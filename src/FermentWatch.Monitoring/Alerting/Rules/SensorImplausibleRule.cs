using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary><c>sensor-implausible</c>: several of the newest gravity readings of a sensor had to be set aside. The subject is the sensor.</summary>
/// <remarks>A jump is told from a step by what follows, so it is judged with what is known now. Foam and handling are no fault of a sensor.</remarks>
public static class SensorImplausibleRule
{
    /// <summary>Id of the rule.</summary>
    public const string Id = "sensor-implausible";

    /// <summary>The catalogue's entry.</summary>
    public static AlertRule Rule { get; } = new(Id, settings => settings.Implausible.Repeat, Episodes, OnTicks: null, Words, IsForDigestAtNight: true);

    private static IEnumerable<AlertEpisode> Episodes(SampleFacts facts, AlertSettings settings) => settings.Implausible.Enabled
        ? facts.Sifted.Where(sensor => sensor.Readings.Count >= 3).SelectMany(sensor => Episodes(sensor, facts, settings.Implausible))
        : [];

    private static IEnumerable<AlertEpisode> Episodes(SiftedReadings sensor, SampleFacts facts, ImplausibleSettings limits)
    {
        var dt = MedianInterval(sensor.Readings);
        var delay = dt * limits.DelayIntervals > limits.DelayAtLeast ? dt * limits.DelayIntervals : limits.DelayAtLeast;
        var timing = new AlertTiming(new Hold(delay, 2), new Hold(delay, 0), AlertTiming.UsualGapLimit(dt));
        var attachments = facts.Batch.Sensors.Where(one => one.Sensor == sensor.Sensor).ToList();
        var left = attachments.TrueForAll(one => one.Until <= facts.Now) ? attachments.Max(one => one.Until) : null;
        var end = EpisodeWalk.Left(sensor.Sensor, left, facts.Now);
        return EpisodeWalk.Of(Id, sensor.Sensor.Value, Judged(sensor, limits), timing, end);
    }

    private static IEnumerable<Judged> Judged(SiftedReadings sensor, ImplausibleSettings limits)
    {
        var name = new ReasonValue.Name(sensor.Sensor.Value);
        var aside = 0;
        for (var i = 0; i < sensor.Readings.Count; i++)
        {
            aside += sensor.Readings[i].IsSetAside ? 1 : 0;
            aside -= i >= limits.Of && sensor.Readings[i - limits.Of].IsSetAside ? 1 : 0;
            var at = sensor.Readings[i].At;
            yield return aside == 0
                ? new Judged(at, Condition.Clear, Reason.Of("sensor-plausible-again", name, new ReasonValue.Count(limits.Of), new ReasonValue.Moment(at)))
                : new Judged(
                    at,
                    aside >= limits.SetAside ? Condition.Holds : Condition.Between,
                    Reason.Of("sensor-implausible-now", name, new ReasonValue.Count(aside), new ReasonValue.Count(limits.Of), new ReasonValue.Moment(at)));
        }
    }

    private static TimeSpan MedianInterval(IReadOnlyList<SiftedReading> readings)
    {
        var intervals = new List<TimeSpan>(readings.Count - 1);
        for (var i = 1; i < readings.Count; i++)
        {
            intervals.Add(readings[i].At - readings[i - 1].At);
        }

        intervals.Sort();
        return intervals[intervals.Count / 2];
    }

    private static NoticeWords Words(NoticeSubject about)
    {
        if (about.IsOver)
        {
            return EndedNotice.Words(about, Reason.Of("look-at-the-sensor"));
        }

        var because = about.Because;
        return new NoticeWords(
            Reason.Of("title-implausible", about.Batch, because.Values[1], because.Values[2]),
            ValueList.Of(because, Reason.Of("ventilate-first"), Reason.Of("look-at-the-sensor")));
    }
}
