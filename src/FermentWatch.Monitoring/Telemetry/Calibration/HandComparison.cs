using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Cleaning;
using FermentWatch.Monitoring.Forecasting;

namespace FermentWatch.Monitoring.Telemetry.Calibration;

/// <summary>A gravity measured by hand beside what the sensor said then.</summary>
/// <param name="At">When it was measured by hand.</param>
/// <param name="HandPoints">By hand, thousandths above water.</param>
/// <param name="SensorPoints">By the sensor, thousandths above water.</param>
public readonly record struct HandPair(EventTime At, double HandPoints, double SensorPoints);

/// <summary>Finds what must be added to a sensor's gravity so that it agrees with hand readings.</summary>
public static class HandComparison
{
    /// <summary>How far a reading of the sensor may lie from a hand reading.</summary>
    public static TimeSpan Reach { get; } = TimeSpan.FromHours(6);

    /// <summary>Error of a hydrometer reading at home. [points] Common practice, no source.</summary>
    private const double HandError = 2;

    private const int MostReadings = 40;
    private const int FewestForScale = 3;
    private const double LeastSpan = 20;

    /// <summary>Hand readings of the journal with the sensor's own value at that moment: the line through the readings within 6 h, by Theil and Sen.</summary>
    /// <param name="gravity">Gravity of the sensor, in any order.</param>
    /// <param name="journal">The journal of the batch, superseded and undone entries included.</param>
    /// <param name="now">What lies later does not count.</param>
    public static ValueList<HandPair> Pairs(IReadOnlyList<Reading> gravity, IReadOnlyList<JournalEntry> journal, EventTime now)
    {
        var pairs = new List<HandPair>();
        foreach (var entry in JournalReading.Active(journal, now))
        {
            if (entry is not { Kind: JournalKind.MeasuredByHand, Gravity: { } hand })
            {
                continue;
            }

            if (SensorAt(gravity.Where(reading => reading.Reach != CalibrationReach.Beyond).Select(reading => (reading.At, (reading.Value - 1) * 1000, reading.Sequence)), entry.At) is { } sensor)
            {
                pairs.Add(new HandPair(entry.At, hand.Points, sensor));
            }
        }

        return ValueList.Of<HandPair>(pairs);
    }

    /// <summary>A constant offset.</summary>
    /// <returns>The adjustment, or null with the reason when there is no pair.</returns>
    public static (GravityAdjustment? Proposed, Reason? NotYet) Offset(ValueList<HandPair> pairs)
    {
        ArgumentNullException.ThrowIfNull(pairs);
        if (pairs.Count == 0)
        {
            return (null, Reason.Of("hand-none"));
        }

        var offset = pairs.Average(pair => pair.HandPoints - pair.SensorPoints);
        return (new GravityAdjustment(offset, 1, pairs.Average(pair => pair.SensorPoints), ErrorOf(pairs, pair => offset + pair.SensorPoints, 1), pairs), null);
    }

    /// <summary>An offset and a scale, by least squares.</summary>
    /// <returns>The adjustment, or null with the reason: fewer than 3 pairs, a span below 20 points, or a scale outside 0.5 to 2.</returns>
    public static (GravityAdjustment? Proposed, Reason? NotYet) OffsetAndScale(ValueList<HandPair> pairs)
    {
        ArgumentNullException.ThrowIfNull(pairs);
        if (pairs.Count < FewestForScale)
        {
            return (null, Reason.Of("hand-scale-few", new ReasonValue.Count(pairs.Count)));
        }

        var span = pairs.Max(pair => pair.HandPoints) - pairs.Min(pair => pair.HandPoints);
        var around = pairs.Average(pair => pair.SensorPoints);
        var squares = pairs.Sum(pair => Math.Pow(pair.SensorPoints - around, 2));
        if (span < LeastSpan || squares == 0)
        {
            return (null, Reason.Of("hand-scale-narrow", new ReasonValue.Gravity(span / 1000, IsDifference: true), new ReasonValue.Gravity(LeastSpan / 1000, IsDifference: true)));
        }

        var offset = pairs.Average(pair => pair.HandPoints) - around;
        var scale = pairs.Sum(pair => (pair.SensorPoints - around) * pair.HandPoints) / squares;
        if (scale is < 0.5 or > 2)
        {
            return (null, Reason.Of("hand-scale-odd"));
        }

        var plain = new GravityAdjustment(offset, scale, around, 0, pairs);
        return (plain with { ErrorPoints = ErrorOf(pairs, pair => plain.Apply(pair.SensorPoints), 2) }, null);
    }

    /// <summary>Half-width of 95 % for the level, from the scatter of the pairs, and never better than the hand readings allow.</summary>
    private static double ErrorOf(ValueList<HandPair> pairs, Func<HandPair, double> adjusted, int fitted)
    {
        var floor = HandError / Math.Sqrt(pairs.Count);
        var free = pairs.Count - fitted;
        if (free < 1)
        {
            return HandError;
        }

        var scatter = Math.Sqrt(pairs.Sum(pair => Math.Pow(pair.HandPoints - adjusted(pair), 2)) / free);
        return Math.Max(floor, StudentDistribution.Quantile(0.975, free) * scatter / Math.Sqrt(pairs.Count));
    }

    /// <summary>What a sensor said at a moment: the line through its readings within <see cref="Reach"/>, by Theil and Sen; null where it has none. [points]</summary>
    /// <param name="readings">Time, points, and what orders those equally near.</param>
    /// <param name="at">The moment.</param>
    internal static double? SensorAt(IEnumerable<(EventTime At, double Points, long Order)> readings, EventTime at)
    {
        var near = readings
            .Where(reading => (reading.At - at).Duration() <= Reach)
            .OrderBy(reading => (reading.At - at).Duration())
            .ThenBy(reading => reading.Order)
            .Take(MostReadings)
            .ToList();
        if (near.Count == 0)
        {
            return null;
        }

        var hours = near.ConvertAll(reading => (reading.At - at).TotalHours);
        var points = near.ConvertAll(reading => reading.Points);
        // A line needs readings on both sides: beyond its ends it would only amplify noise.
        var slope = hours.Min() < 0 && hours.Max() > 0 ? TheilSen.Slope(hours, points) : 0;
        return Hampel.MedianInPlace(points.Select((value, i) => value - (slope * hours[i])).ToArray());
    }
}
