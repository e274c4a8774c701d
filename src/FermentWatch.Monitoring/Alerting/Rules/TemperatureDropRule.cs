using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary>
/// <c>temperature-drop</c>: the liquid cooled so far in half a day while it ferments that the yeast may stop. A cold crash that is
/// written in the journal was meant.
/// </summary>
/// <remarks>Limits are common practice, no source. Sensors on bare glass and in the room follow the day and the night: they are not asked.</remarks>
public static class TemperatureDropRule
{
    /// <summary>Id of the rule.</summary>
    public const string Id = "temperature-drop";

    private static readonly TimeSpan AssumedInterval = TimeSpan.FromMinutes(15);

    /// <summary>The catalogue's entry.</summary>
    public static AlertRule Rule { get; } = new(Id, settings => settings.TemperatureDrop.Repeat, Episodes, OnTicks: null, Words);

    private static IEnumerable<AlertEpisode> Episodes(SampleFacts facts, AlertSettings settings) => settings.TemperatureDrop.Enabled
        ? facts.Batch.Sensors.Distinct()
            .Where(attachment => attachment.Placement is Placement.InLiquid or Placement.InsulatedOnGlass)
            .SelectMany(attachment => Episodes(attachment, facts, settings.TemperatureDrop))
        : [];

    private static IEnumerable<AlertEpisode> Episodes(SensorAttachment attachment, SampleFacts facts, TemperatureDropSettings limits)
    {
        var samples = SampleOrder.Of(attachment, QuantityKind.Temperature, facts.Series, facts.Now).Where(sample => double.IsFinite(sample.Value)).ToList();
        var medians = samples.Select((_, i) => Median(samples, i)).ToList();
        var (highest, lowest) = (Farthest(samples, medians, limits.Within, sign: 1), Farthest(samples, medians, limits.Within, sign: -1));
        var timing = new AlertTiming(
            new Hold(limits.OnDelay, 2), new Hold(limits.OffDelay, 0), AlertTiming.UsualGapLimit(SampleOrder.MedianInterval(samples, AssumedInterval)));
        var end = EpisodeWalk.Left(attachment.Sensor, attachment.Until, facts.Now);
        bool Shows(int i) => i >= 0 && Fell(highest[i], samples[i].Value, facts) > limits.DropCelsius && facts.StageAt(samples[i].At) is BatchStage.Fermenting;
        return EpisodeWalk.Of(Id, attachment.Sensor.Value, samples.Select((_, i) => Judge(samples[i].At, (medians[i], highest[i], lowest[i]), facts, attachment, limits) with
        {
            // The median speaks a sample late.
            Since = Shows(i) && Shows(i - 1) && samples[i].At - samples[i - 1].At <= timing.GapLimit ? samples[i - 1].At : null,
        }), timing, end)
            .Select(episode => episode with { Placement = attachment.Placement });
    }

    private static Judged Judge(
        EventTime at, (double Now, double Highest, double Lowest) median, SampleFacts facts, SensorAttachment attachment, TemperatureDropSettings limits)
    {
        var celsius = median.Now;
        var name = new ReasonValue.Name(attachment.Sensor.Value);
        if (facts.StageAt(at) is not BatchStage.Fermenting)
        {
            return new Judged(at, Condition.Clear, Reason.Of("temperature-drop-meant", name, new ReasonValue.Moment(at)));
        }

        // Rising again: what was lost comes back.
        var isRising = celsius - median.Lowest >= limits.RiseCelsius;
        var fell = Fell(median.Highest, celsius, facts);
        return isRising || fell <= limits.DropCelsius - limits.RiseCelsius
            ? new Judged(at, Condition.Clear, Reason.Of("temperature-drop-over", name, new ReasonValue.Degrees(celsius), new ReasonValue.Moment(at)))
            : new Judged(
                at,
                fell > limits.DropCelsius ? Condition.Holds : Condition.Between,
                Reason.Of("temperature-dropped", name, new ReasonValue.Degrees(celsius), new ReasonValue.Degrees(fell, IsDifference: true), new ReasonValue.Length(limits.Within)));
    }

    /// <summary>What was lost since the highest: what comes down from above the band into it is no loss. [°C]</summary>
    private static double Fell(double highest, double celsius, SampleFacts facts) =>
        (facts.Batch.TemperatureBand is { } band ? Math.Min(highest, Math.Max(band.High.Celsius, celsius)) : highest) - celsius;

    /// <summary>
    /// The highest (or, with sign -1, the lowest) median of the stretch that ends with each sample. Every sample enters and leaves once, so that a reading a
    /// minute costs no more than one an hour.
    /// </summary>
    private static double[] Farthest(List<Reading> samples, List<double> medians, TimeSpan within, int sign)
    {
        var farthest = new double[samples.Count];
        var candidates = new LinkedList<int>();
        for (var i = 0; i < samples.Count; i++)
        {
            while (candidates.Last is { } last && sign * medians[last.Value] <= sign * medians[i])
            {
                candidates.RemoveLast();
            }

            candidates.AddLast(i);
            while (samples[i].At - samples[candidates.First!.Value].At > within)
            {
                candidates.RemoveFirst();
            }

            farthest[i] = medians[candidates.First!.Value];
        }

        return farthest;
    }

    private static double Median(List<Reading> samples, int i) => i < 2
        ? samples[i].Value
        : CurveData.Median([samples[i].Value, samples[i - 1].Value, samples[i - 2].Value]);

    private static NoticeWords Words(NoticeSubject about)
    {
        if (MergedNotice.Of(about) is { } merged)
        {
            return merged;
        }

        if (about.IsOver)
        {
            return EndedNotice.Words(about, Reason.Of("undo-remedy"));
        }

        var because = about.Because;
        return new NoticeWords(
            Reason.Of("title-drop", about.Batch, because.Values[2], because.Values[3]),
            ValueList.Of(because, Reason.Of("cold-may-stop-yeast"), Reason.Of("ventilate-first"), Reason.Of("warm-gently")));
    }
}
