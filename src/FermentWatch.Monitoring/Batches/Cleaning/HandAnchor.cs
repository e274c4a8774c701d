using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Monitoring.Telemetry.Calibration;

namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>A reading by hand that the sensor's readings were moved to.</summary>
/// <param name="At">When it was taken.</param>
/// <param name="Points">By hand. [points]</param>
/// <param name="SensorPoints">By the sensor at that time, before it was moved. [points]</param>
/// <param name="IsUsed">False where they lie too far apart for both to be of the same liquid.</param>
internal readonly record struct AnchorPair(EventTime At, double Points, double SensorPoints, bool IsUsed);

/// <summary>Moves a sensor's gravity to what was measured by hand: its offset, and how that offset wandered between two hand readings.</summary>
/// <remarks>
/// <para><b>Method.</b> The offset is a random walk that the hand readings observe: filtered forward, smoothed backward (Rauch, Tung, Striebel),
/// straight between two of them, constant after the last. With hand readings the told original gravity counts as one more, at the sensor's first
/// readings. Sugar, a knock or a racking lets the offset move freely.</para>
/// <para><b>Valid.</b> Without a hand reading near one of the sensor's nothing is moved. <b>Error.</b> A hand reading is taken to be good to a point
/// (one standard deviation), an offset to wander by 0.4 points in a day and 2 in a month; common practice, no source. <b>Source.</b> H. E. Rauch, F. Tung,
/// C. T. Striebel, Maximum likelihood estimates of linear dynamic systems, AIAA J. 3 (1965) 1445-1450, from memory. <b>Check.</b> HandAnchorTests.</para>
/// </remarks>
internal static class HandAnchor
{
    private const double ReachHours = 6;
    private const double FirstHours = 12;
    private const int MostReadings = 40;
    private const int FewestFirst = 3;

    // Further apart than this one of the two is wrong: the maker is told, nothing is moved.
    private const double MostApart = 20;
    private const double OffsetVariance = 36;
    private const double WanderVariancePerDay = 0.15;
    private const double DisturbedVariance = 16;
    private const double HandVariance = 1.25;
    private const double ToldVariance = 2;

    /// <summary>Hand readings with the sensor's own value at that time, in time order.</summary>
    public static List<AnchorPair> Pairs(List<GravitySample> sensors, IReadOnlyList<GravitySample> hand)
    {
        var pairs = new List<AnchorPair>();
        foreach (var reading in hand)
        {
            if (SensorAt(sensors, reading.At) is { } sensor)
            {
                pairs.Add(new AnchorPair(reading.At, reading.Points, sensor, Math.Abs(sensor - reading.Points) <= MostApart));
            }
        }

        return pairs;
    }

    /// <summary>The sensor's readings, moved.</summary>
    /// <param name="sensors">In time order.</param>
    /// <param name="pairs">From <see cref="Pairs"/>.</param>
    /// <param name="inoculatedAt">When the yeast went in.</param>
    /// <param name="originalPoints">Original gravity as told, or null.</param>
    /// <param name="disturbedAt">When sugar came in, or a knock or a racking moved the sensor.</param>
    public static List<GravitySample> Moved(
        List<GravitySample> sensors, List<AnchorPair> pairs, EventTime inoculatedAt, double? originalPoints, IReadOnlyList<EventTime> disturbedAt)
    {
        var used = pairs.FindAll(pair => pair.IsUsed);
        if (used.Count == 0)
        {
            return sensors;
        }

        var seen = used.ConvertAll(pair => (pair.At, Offset: pair.SensorPoints - pair.Points, Variance: HandVariance));
        if (originalPoints is { } original && First(sensors, inoculatedAt) is { } first && first.At < seen[0].At && Math.Abs(first.Points - original) <= MostApart)
        {
            seen.Insert(0, (first.At, first.Points - original, ToldVariance));
        }

        var offsets = Smoothed(seen, disturbedAt);
        return sensors.ConvertAll(sample => sample with { Points = sample.Points - At(sample.At, seen, offsets, disturbedAt) });
    }

    private static double[] Smoothed(List<(EventTime At, double Offset, double Variance)> seen, IReadOnlyList<EventTime> disturbedAt)
    {
        var (means, variances, ahead) = (new double[seen.Count], new double[seen.Count], new double[seen.Count]);
        double mean = 0, variance = OffsetVariance;
        for (var i = 0; i < seen.Count; i++)
        {
            variance += i == 0 ? 0 : Wander(seen[i - 1].At, seen[i].At, disturbedAt);
            ahead[i] = variance;
            var gain = variance / (variance + seen[i].Variance);
            mean += gain * (seen[i].Offset - mean);
            variance *= 1 - gain;
            (means[i], variances[i]) = (mean, variance);
        }

        for (var i = seen.Count - 2; i >= 0; i--)
        {
            means[i] += variances[i] / ahead[i + 1] * (means[i + 1] - means[i]);
        }

        return means;
    }

    private static double Wander(EventTime from, EventTime until, IReadOnlyList<EventTime> disturbedAt) =>
        (WanderVariancePerDay * Math.Max((until - from).TotalDays, 0)) + (disturbedAt.Any(at => at > from && at <= until) ? DisturbedVariance : 0);

    private static double At(EventTime at, List<(EventTime At, double Offset, double Variance)> seen, double[] offsets, IReadOnlyList<EventTime> disturbedAt)
    {
        var after = seen.FindIndex(one => one.At >= at);
        if (after <= 0)
        {
            return after == 0 ? offsets[0] : offsets[^1];
        }

        // Where something moved the sensor in between, the offset did not wander but jump.
        var (from, until) = (seen[after - 1].At, seen[after].At);
        foreach (var jump in disturbedAt)
        {
            if (jump > from && jump <= until)
            {
                return at < jump ? offsets[after - 1] : offsets[after];
            }
        }

        var part = (at - from).TotalHours / Math.Max((until - from).TotalHours, 1e-6);
        return offsets[after - 1] + (part * (offsets[after] - offsets[after - 1]));
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

    private static double? SensorAt(List<GravitySample> sensors, EventTime at)
    {
        var near = new List<GravitySample>();
        foreach (var sample in sensors)
        {
            if ((sample.At - at).Duration().TotalHours <= ReachHours)
            {
                near.Add(sample);
            }
        }

        if (near.Count == 0)
        {
            return null;
        }

        if (near.Count > MostReadings)
        {
            near = [.. near.OrderBy(sample => (sample.At - at).Duration()).ThenBy(sample => sample.At).Take(MostReadings)];
        }

        var hours = near.ConvertAll(sample => (sample.At - at).TotalHours);
        var points = near.ConvertAll(sample => sample.Points);
        // A line needs readings on both sides: beyond its ends it would only amplify noise.
        var slope = hours.Min() < 0 && hours.Max() > 0 ? TheilSen.Slope(hours, points) : 0;
        return Hampel.MedianInPlace(points.Select((value, i) => value - (slope * hours[i])).ToArray());
    }
}
