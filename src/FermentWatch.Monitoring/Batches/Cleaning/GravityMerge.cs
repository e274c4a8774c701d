using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>Puts the cleaned readings of all gravity sensors and the hand readings of a batch on one time line.</summary>
internal static class GravityMerge
{
    /// <summary>With a sensor's reading this near, a hand reading is shown beside the curve instead of in it. [h]</summary>
    private const double HandReach = 24;

    private const double Bracket = 3;
    private const int LeastPairs = 5;

    /// <summary>The kept readings of all sensors in time order; others are moved to the level of the busiest one.</summary>
    public static List<GravitySample> Sensors(IReadOnlyList<GravityTrack> tracks)
    {
        var ordered = new List<(GravityTrack Track, int[] Kept)>();
        foreach (var track in tracks)
        {
            ordered.Add((track, track.KeptPositions()));
        }

        // A stable order by count: the first of equals stays first, and tracks come by sensor name.
        ordered.Sort((left, right) => right.Kept.Length.CompareTo(left.Kept.Length) is var order and not 0
            ? order
            : tracks.IndexOf(left.Track).CompareTo(tracks.IndexOf(right.Track)));
        var samples = new List<GravitySample>();
        for (var i = 0; i < ordered.Count; i++)
        {
            var (track, kept) = ordered[i];
            var own = new List<GravitySample>(kept.Length);
            foreach (var position in kept)
            {
                own.Add(new GravitySample(
                    track.Readings[position].At,
                    track.Points[position] - track.Shift[position],
                    track.Readings[position].ReceivedAt));
            }

            samples = i == 0 ? own : Join(samples, own);
        }

        return samples;
    }

    /// <summary>Hand readings that lie where no sensor was heard, as part of the curve.</summary>
    public static List<GravitySample> WithHand(List<GravitySample> sensors, IReadOnlyList<GravitySample> hand)
    {
        var missing = new List<GravitySample>();
        foreach (var reading in hand)
        {
            var after = FirstAtOrAfter(sensors, reading.At);
            var isNear = (after < sensors.Count && (sensors[after].At - reading.At).TotalHours <= HandReach)
                || (after > 0 && (reading.At - sensors[after - 1].At).TotalHours <= HandReach);
            if (!isNear)
            {
                missing.Add(reading);
            }
        }

        return missing.Count == 0 ? sensors : Interleave(sensors, missing);
    }

    private static List<GravitySample> Join(List<GravitySample> level, List<GravitySample> other)
    {
        var differences = new List<double>();
        foreach (var sample in other)
        {
            var after = FirstAtOrAfter(level, sample.At);
            if (after == 0 || after == level.Count)
            {
                continue;
            }

            var (left, right) = (level[after - 1], level[after]);
            var span = (right.At - left.At).TotalHours;
            if (span <= Bracket)
            {
                var share = span <= 0 ? 0 : (sample.At - left.At).TotalHours / span;
                differences.Add(sample.Points - (left.Points + (share * (right.Points - left.Points))));
            }
        }

        var shift = differences.Count < LeastPairs ? 0 : Hampel.MedianInPlace(differences.ToArray());
        return Interleave(level, other.ConvertAll(sample => sample with { Points = sample.Points - shift }));
    }

    private static List<GravitySample> Interleave(List<GravitySample> left, List<GravitySample> right)
    {
        var all = new List<GravitySample>(left.Count + right.Count);
        var (i, j) = (0, 0);
        while (i < left.Count || j < right.Count)
        {
            all.Add(j == right.Count || (i < left.Count && left[i].At <= right[j].At) ? left[i++] : right[j++]);
        }

        return all;
    }

    private static int FirstAtOrAfter(List<GravitySample> samples, EventTime at)
    {
        var (low, high) = (0, samples.Count);
        while (low < high)
        {
            var middle = (low + high) >>> 1;
            if (samples[middle].At < at)
            {
                low = middle + 1;
            }
            else
            {
                high = middle;
            }
        }

        return low;
    }

    private static int IndexOf(this IReadOnlyList<GravityTrack> tracks, GravityTrack track)
    {
        for (var i = 0; i < tracks.Count; i++)
        {
            if (ReferenceEquals(tracks[i], track))
            {
                return i;
            }
        }

        return -1;
    }
}
