using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>
/// <c>temperature-danger</c>: so hot that yeast dies, or so cold that glass bursts. Urgent: it breaks through quiet hours. Every
/// sensor of the batch is a subject, but for those in the room.
/// </summary>
/// <remarks>Limits and delays are common practice, no source. Yeast dies within hours above about 34 °C (common practice);
/// the limit leaves time to act. A single value that jumps by more than 10 °C waits for the next one, however slow the sensor.</remarks>
public static class TemperatureDangerRule
{
    /// <summary>Id of the rule.</summary>
    public const string Id = "temperature-danger";

    private static readonly TimeSpan AssumedInterval = TimeSpan.FromMinutes(15);
    private static readonly TimeSpan LongestRise = TimeSpan.FromMinutes(90);
    private static readonly TimeSpan ShortestRise = TimeSpan.FromMinutes(30);

    /// <summary>The catalogue's entry.</summary>
    public static AlertRule Rule { get; } = new(Id, settings => settings.TemperatureDanger.Repeat, Episodes, OnTicks: null, TemperatureDangerNotice.Words);

    private static IEnumerable<AlertEpisode> Episodes(SampleFacts facts, AlertSettings settings) => settings.TemperatureDanger.Enabled
        ? facts.Batch.Sensors.Distinct()
            .Where(attachment => attachment.Placement is not Placement.Room)
            .SelectMany(attachment => Episodes(attachment, facts, settings.TemperatureDanger))
        : [];

    private static IEnumerable<AlertEpisode> Episodes(SensorAttachment attachment, SampleFacts facts, TemperatureDangerSettings limits)
    {
        var samples = SampleOrder.Of(attachment, QuantityKind.Temperature, facts.Series, facts.Now).Where(sample => double.IsFinite(sample.Value)).ToList();
        var interval = SampleOrder.MedianInterval(samples, AssumedInterval);
        var timing = new AlertTiming(
            interval > limits.SlowInterval ? Hold.None : new Hold(limits.OnDelay, limits.OnSamples),
            new Hold(limits.OffDelay, 0),
            AlertTiming.UsualGapLimit(interval));
        var end = EpisodeWalk.Left(attachment.Sensor, attachment.Until, facts.Now);
        return EpisodeWalk.Of(Id, attachment.Sensor.Value, samples.Select((_, i) => Judge(samples, i, facts, attachment, limits)), timing, end)
            .Select(episode => episode with { Placement = attachment.Placement });
    }

    private static Judged Judge(List<Reading> samples, int i, SampleFacts facts, SensorAttachment attachment, TemperatureDangerSettings limits)
    {
        var (at, celsius) = (samples[i].At, samples[i].Value);
        var name = new ReasonValue.Name(attachment.Sensor.Value);
        var degrees = new ReasonValue.Degrees(celsius);
        if (i > 0 && Math.Abs(celsius - samples[i - 1].Value) > limits.LargestStepCelsius)
        {
            return new Judged(at, Condition.Unknown, Reason.Of("temperature-jumped", name, degrees), Severity.Urgent);
        }

        if (celsius <= limits.FreezingCelsius + limits.ClearMarginCelsius)
        {
            var isFreezing = celsius <= limits.FreezingCelsius;
            return new Judged(at, isFreezing ? Condition.Holds : Condition.Between, Reason.Of("temperature-freezing", name, degrees, new ReasonValue.Degrees(limits.FreezingCelsius)), Severity.Urgent);
        }

        var hot = limits.HotCelsius - (RisePerHour(samples, i) > limits.FastRisePerHour ? limits.EarlierCelsius : 0);
        if (facts.StageAt(at) is not (BatchStage.Fermenting or BatchStage.Malolactic) || celsius <= hot - limits.ClearMarginCelsius)
        {
            return new Judged(at, Condition.Clear, Reason.Of("temperature-out-of-danger", name, degrees, new ReasonValue.Moment(at)), Severity.Urgent);
        }

        return new Judged(
            at,
            celsius >= hot ? Condition.Holds : Condition.Between,
            Reason.Of("temperature-deadly", name, degrees, new ReasonValue.Degrees(hot)),
            Severity.Urgent);
    }

    /// <summary>Rise over the last half hour to hour and a half. [°C/h]</summary>
    private static double RisePerHour(List<Reading> samples, int i)
    {
        var rise = 0.0;
        for (var earlier = i - 1; earlier >= 0 && samples[i].At - samples[earlier].At <= LongestRise; earlier--)
        {
            var time = samples[i].At - samples[earlier].At;
            if (time >= ShortestRise)
            {
                rise = (samples[i].Value - samples[earlier].Value) / time.TotalHours;
            }
        }

        return rise;
    }
}
