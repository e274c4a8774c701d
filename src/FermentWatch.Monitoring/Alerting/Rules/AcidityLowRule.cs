using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary><c>ph-low</c>: pH of a ferment is so low that its yeast suffers. The subject is a sensor, or the batch for readings by hand.</summary>
/// <remarks>Urgent in a mead whose gravity falls: it has little to buffer the acid. Once it no longer ferments nothing is to be said.</remarks>
public static class AcidityLowRule
{
    /// <summary>Id of the rule.</summary>
    public const string Id = "ph-low";

    private static readonly TimeSpan AssumedInterval = TimeSpan.FromMinutes(15);

    /// <summary>The catalogue's entry.</summary>
    public static AlertRule Rule { get; } = new(Id, settings => settings.Acidity.Repeat, Episodes, OnTicks: null, Words);

    private static IEnumerable<AlertEpisode> Episodes(SampleFacts facts, AlertSettings settings)
    {
        var limits = settings.Acidity;
        return limits.Enabled ? ByHand(facts, limits).Concat(facts.Batch.Sensors.Distinct().SelectMany(sensor => BySensor(sensor, facts, limits))) : [];
    }

    private static IEnumerable<AlertEpisode> ByHand(SampleFacts facts, AciditySettings limits)
    {
        var read = facts.Journal.Where(entry => entry.At <= facts.Now && entry.Number("ph") is not null).Select(entry => (entry.At, entry.Number("ph")!.Value));
        return EpisodeWalk.Of(Id, facts.Batch.Id.Value, Judged(read, facts, limits), new AlertTiming(Hold.None, Hold.None, TimeSpan.MaxValue));
    }

    private static IEnumerable<AlertEpisode> BySensor(SensorAttachment attachment, SampleFacts facts, AciditySettings limits)
    {
        var samples = SampleOrder.Of(attachment, QuantityKind.Acidity, facts.Series, facts.Now).Where(sample => double.IsFinite(sample.Value)).ToList();
        var timing = new AlertTiming(
            new Hold(TimeSpan.Zero, limits.OnSamples), new Hold(limits.OffDelay, 0), AlertTiming.UsualGapLimit(SampleOrder.MedianInterval(samples, AssumedInterval)));
        var end = EpisodeWalk.Left(attachment.Sensor, attachment.Until, facts.Now);
        return EpisodeWalk.Of(Id, attachment.Sensor.Value, Judged(samples.Select(sample => (sample.At, sample.Value)), facts, limits), timing, end);
    }

    /// <summary>The readings with the ends of the ferment between them.</summary>
    private static IEnumerable<Judged> Judged(IEnumerable<(EventTime At, double Value)> read, SampleFacts facts, AciditySettings limits)
    {
        var ends = facts.Stages.Where(span => span.Stage is not BatchStage.Fermenting && span.From <= facts.Now).Select(span => Over(span.From));
        return read.Select(one => facts.StageAt(one.At) is BatchStage.Fermenting ? Judge(one.At, one.Value, facts, limits) : Over(one.At))
            .Concat(ends)
            .OrderBy(judged => judged.At);
    }

    private static Judged Over(EventTime at) => new(at, Condition.NotApplicable, Reason.Of("ph-ferment-over", new ReasonValue.Moment(at)));

    private static Judged Judge(EventTime at, double value, SampleFacts facts, AciditySettings limits)
    {
        var measured = new ReasonValue.Figure(value, 2);
        if (value > limits.ClearAbove)
        {
            return new Judged(at, Condition.Clear, Reason.Of("ph-risen", measured, new ReasonValue.Moment(at)));
        }

        var isUrgent = value < limits.UrgentBelow && facts.Batch.Kind is FermentKind.Mead && IsAtWork(facts, at, limits);
        return new Judged(
            at,
            value < limits.Below ? Condition.Holds : Condition.Between,
            Reason.Of("ph-low-now", measured, new ReasonValue.Figure(limits.Below, 2), new ReasonValue.Moment(at)),
            isUrgent ? Severity.Urgent : Severity.Warning);
    }

    private static bool IsAtWork(SampleFacts facts, EventTime at, AciditySettings limits)
    {
        var within = facts.Gravity.Where(point => point.At <= at && at - point.At <= limits.WorksWithin).ToList();
        return within.Count > 1 && within[0].Gravity.Points - within[^1].Gravity.Points > limits.WorksPoints;
    }

    private static NoticeWords Words(NoticeSubject about)
    {
        if (about.IsOver)
        {
            return EndedNotice.Words(about, Reason.Of("ph-look-again"));
        }

        var because = about.Because;
        return new NoticeWords(
            Reason.Of("title-ph-low", about.Batch, because.Values[0]),
            ValueList.Of(because, Reason.Of("ventilate-first"), Reason.Of("raise-ph-slowly")));
    }
}
