using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Rules;

/// <summary><c>no-start</c>: gravity has not begun to fall long after the yeast went in. The subject is the batch.</summary>
/// <remarks>Gas that comes off steadily is a start as well: sugar goes before a sensor shows the fall. 72 h for wine and cider, 96 h for mead, whose lag is longer: common practice, no source. Where the first gravity came more
/// than a day after the inoculation and no original gravity was told, nobody saw the start: the rule says nothing.</remarks>
public static class NoStartRule
{
    /// <summary>Id of the rule.</summary>
    public const string Id = "no-start";

    private static readonly TimeSpan LateFirst = TimeSpan.FromHours(24);

    /// <summary>The catalogue's entry.</summary>
    public static AlertRule Rule { get; } = new(Id, settings => settings.NoStart.Repeat, Episodes, OnTicks: null, Words);

    private static IEnumerable<AlertEpisode> Episodes(SampleFacts facts, AlertSettings settings)
    {
        var limits = settings.NoStart;
        var began = facts.Last(JournalKind.Inoculated, JournalKind.Repitched)?.At is { } written && written > facts.Batch.InoculatedAt ? written : facts.Batch.InoculatedAt;
        var points = facts.Gravity.Where(point => point.At >= began).ToList();
        if (!limits.Enabled || points.Count == 0 || Level(facts.Batch, points, began) is not { } level)
        {
            return [];
        }

        var wait = facts.Batch.Kind is FermentKind.Mead ? limits.MeadWait : limits.Wait;
        var pulses = facts.Batch.Sensors.Distinct().SelectMany(sensor => SampleOrder.Of(sensor, QuantityKind.GasPulses, facts.Series, facts.Now)).OrderBy(sample => sample.At).ToList();
        var timing = new AlertTiming(Hold.None, new Hold(limits.OffDelay, 0), TimeSpan.MaxValue);
        return EpisodeWalk.Of(Id, facts.Batch.Id.Value, points.Select((_, i) => Judge(points, i, level, (began, wait), pulses, limits)), timing);
    }

    private static Judged Judge(List<GravityPoint> points, int i, double level, (EventTime At, TimeSpan Wait) began, List<Reading> pulses, NoStartSettings limits)
    {
        var at = points[i].At;
        var latest = Median(points, Math.Max(0, i - 2), i);
        var fall = level - latest;
        if (fall > limits.FallPoints)
        {
            return new Judged(at, Condition.Clear, Reason.Of("start-seen", new ReasonValue.Gravity(fall / 1000, IsDifference: true), new ReasonValue.Moment(at)));
        }

        var isLate = at - began.At >= began.Wait;
        if (isLate && Activity(pulses, at, limits) is { } active && active >= limits.ActivePulses)
        {
            return new Judged(at, Condition.Clear, Reason.Of("start-heard", new ReasonValue.Figure(active, 0), new ReasonValue.Moment(at)));
        }

        return new Judged(
            at,
            isLate ? Condition.Holds : Condition.Between,
            Reason.Of("no-start-yet", new ReasonValue.Length(at - began.At), new ReasonValue.Gravity(1 + (latest / 1000)), new ReasonValue.Moment(began.At)));
    }

    /// <summary>Gas pulses a minute lately, as their median; null where none are counted.</summary>
    private static double? Activity(List<Reading> pulses, EventTime at, NoStartSettings limits)
    {
        var lately = pulses.Where(sample => sample.At <= at && at - sample.At <= limits.ActiveWithin && double.IsFinite(sample.Value)).Select(sample => sample.Value).ToArray();
        return lately.Length < 3 ? null : CurveData.Median(lately);
    }

    /// <summary>Gravity from which a fall counts, in points; null where nobody saw the start.</summary>
    private static double? Level(Batch batch, List<GravityPoint> points, EventTime began)
    {
        var seen = Median(points, 0, Math.Min(4, points.Count - 1));
        // A hydrometer and a sensor differ by a few points: only a large difference says that the sensor came late.
        if (batch.OriginalGravity is { } told && told.Points > seen + 6)
        {
            return told.Points;
        }

        return points[0].At - began <= LateFirst ? seen : batch.OriginalGravity is not null ? seen : null;
    }

    private static double Median(List<GravityPoint> points, int from, int until)
    {
        return CurveData.Median([.. points.GetRange(from, until - from + 1).Select(point => point.Gravity.Points)]);
    }

    private static NoticeWords Words(NoticeSubject about)
    {
        if (about.IsOver)
        {
            return EndedNotice.Words(about, Reason.Of("look-for-a-start"));
        }

        var because = about.Because;
        return new NoticeWords(
            Reason.Of("title-no-start", about.Batch, because.Values[0]),
            ValueList.Of(because, Reason.Of("ventilate-first"), Reason.Of("look-for-a-start")));
    }
}
