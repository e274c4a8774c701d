using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Monitoring.Telemetry.Calibration;

namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>A reading by hand that the sensor's readings were moved to.</summary>
/// <param name="At">When it was taken.</param>
/// <param name="Points">By hand. [points]</param>
/// <param name="SensorPoints">By the sensor at that time, moved by what was known before this reading. [points]</param>
/// <param name="IsUsed">False where they lie too far apart for both to be of the same liquid, or the sample held gas.</param>
/// <param name="IsGassy">Whether the sample is said not to have been degassed: it reads high by nobody knows how much.</param>
internal readonly record struct AnchorPair(EventTime At, double Points, double SensorPoints, bool IsUsed, bool IsGassy = false);

/// <summary>Moves a sensor's gravity to what was measured by hand: its offset, and how that offset wandered between two hand readings.</summary>
/// <remarks>
/// <para><b>Method.</b> The offset is a random walk that the hand readings observe: filtered forward, smoothed backward (Rauch, Tung, Striebel),
/// straight between two of them, constant after the last. With hand readings the told original gravity counts as one more, at the sensor's first
/// readings. Sugar, a knock or a racking lets the offset move freely. A sample that is said to hold gas moves nothing.</para>
/// <para><b>Valid.</b> Without a hand reading near one of the sensor's nothing is moved. <b>Error.</b> A hand reading is taken to be good to a point
/// (one standard deviation), an offset to wander by 0.4 points in a day and 2 in a month; common practice, no source. <b>Source.</b> H. E. Rauch, F. Tung,
/// C. T. Striebel, Maximum likelihood estimates of linear dynamic systems, AIAA J. 3 (1965) 1445-1450, from memory. <b>Check.</b> HandAnchorTests.</para>
/// </remarks>
internal static class HandAnchor
{
    private const double FirstHours = 12;
    private const int FewestFirst = 3;

    // Further apart than this one of the two is wrong: the maker is told, nothing is moved.
    private const double MostApart = 20;
    private const double HandVariance = 1.25;
    private const double ToldVariance = 2;

    /// <summary>The sensor's readings, moved, and the hand readings that moved them.</summary>
    /// <param name="sensors">In time order.</param>
    /// <param name="hand">In time order.</param>
    /// <param name="inoculatedAt">When the yeast went in.</param>
    /// <param name="originalPoints">Original gravity as told, or null.</param>
    /// <param name="disturbedAt">When sugar came in, or a knock or a racking moved the sensor; in time order.</param>
    /// <param name="isGassy">Whether a sample taken then is said to hold gas; such a one moves nothing.</param>
    public static (List<GravitySample> Moved, List<AnchorPair> Pairs) Of(
        List<GravitySample> sensors, IReadOnlyList<GravitySample> hand, EventTime inoculatedAt, double? originalPoints, IReadOnlyList<EventTime> disturbedAt, Predicate<EventTime>? isGassy = null)
    {
        var beside = new List<(GravitySample Hand, double Sensor)>();
        foreach (var reading in hand)
        {
            if (HandComparison.SensorAt(sensors.Select(sample => (sample.At, sample.Points, sample.At.UnixMicroseconds)), reading.At) is { } sensor)
            {
                beside.Add((reading, sensor));
            }
        }

        if (beside.Count == 0)
        {
            return (sensors, []);
        }

        var walk = new OffsetWalk(disturbedAt);
        if (originalPoints is { } original && First(sensors, inoculatedAt) is { } first && first.At < beside[0].Hand.At && Math.Abs(first.Points - original) <= MostApart)
        {
            walk.See(first.At, first.Points - original, ToldVariance);
        }

        var pairs = new List<AnchorPair>();
        foreach (var (reading, sensor) in beside)
        {
            var hasGas = isGassy?.Invoke(reading.At) == true;
            var isUsed = !hasGas && Math.Abs(sensor - reading.Points) <= MostApart;
            // Before the first hand reading nothing was moved, whatever the start already told.
            var shown = pairs.Exists(pair => pair.IsUsed) ? sensor - walk.Mean : sensor;
            pairs.Add(new AnchorPair(reading.At, reading.Points, shown, isUsed, hasGas));
            if (isUsed)
            {
                walk.See(reading.At, sensor - reading.Points, HandVariance);
            }
        }

        if (!pairs.Exists(pair => pair.IsUsed))
        {
            return (sensors, pairs);
        }

        walk.Smooth();
        return (sensors.ConvertAll(sample => sample with { Points = sample.Points - walk.At(sample.At) }), pairs);
    }

    private static (EventTime At, double Points)? First(List<GravitySample> sensors, EventTime inoculatedAt)
    {
        var first = sensors.FindAll(sample => sample.At >= inoculatedAt && (sample.At - inoculatedAt).TotalHours <= FirstHours);
        if (first.Count < FewestFirst)
        {
            return null;
        }

        var count = Math.Min(6, first.Count);
        return (first[count / 2].At, Hampel.MedianInPlace(first.GetRange(0, count).ConvertAll(sample => sample.Points).ToArray()));
    }
}
