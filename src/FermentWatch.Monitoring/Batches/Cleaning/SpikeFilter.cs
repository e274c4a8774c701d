namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>Finds single wild readings. A real fall, however fast, lies between its neighbors and is never taken for one.</summary>
internal static class SpikeFilter
{
    private const int HalfWindow = 3;
    private const double Threshold = 3;
    private const double LeastSize = 2.5;
    private const double LeastNoises = 4;

    /// <summary>Faster than any ferment falls. [points/h] From memory: vigorous home ferments lose 30 to 40 points a day.</summary>
    private const double FastestFall = 2.5;

    /// <summary>Longest run of neighbors that are wild in the same way.</summary>
    private const int LongestRun = 3;

    public static void Apply(GravityTrack track)
    {
        var kept = track.KeptPositions();
        if (kept.Length < 5)
        {
            return;
        }

        var values = new double[kept.Length];
        for (var i = 0; i < kept.Length; i++)
        {
            values[i] = track.Points[kept[i]];
        }

        var noise = NoiseOf(values);
        var floor = Math.Max(LeastSize, LeastNoises * noise);
        var deviations = new double[kept.Length];
        Hampel.Mark(values, HalfWindow, Threshold, floor, deviations);
        for (var i = 0; i < kept.Length; i++)
        {
            if (deviations[i] == 0)
            {
                continue;
            }

            var last = i;
            while (last + 1 < kept.Length && deviations[last + 1] != 0 && Math.Sign(deviations[last + 1]) == Math.Sign(deviations[i]))
            {
                last++;
            }

            if (last - i < LongestRun && StandsOut(track, kept, values, i, last, floor))
            {
                for (var j = i; j <= last; j++)
                {
                    track.Marks[kept[j]] = Mark.Spike;
                    track.SpikeSizes[kept[j]] = deviations[j];
                }
            }

            i = last;
        }
    }

    /// <summary>Standard deviation of a reading, from differences of neighbors: robust against trend and outliers. [points]</summary>
    public static double NoiseOf(ReadOnlySpan<double> values)
    {
        if (values.Length < 3)
        {
            return 0;
        }

        var differences = new double[values.Length - 1];
        for (var i = 0; i < differences.Length; i++)
        {
            differences[i] = values[i + 1] - values[i];
        }

        return Hampel.ScaleInPlace(differences) / Math.Sqrt(2);
    }

    // Both neighbors on the same side, and far enough: a point on a falling curve has one above and one below.
    private static bool StandsOut(GravityTrack track, int[] kept, double[] values, int first, int last, double floor)
    {
        var lowest = values[first];
        var highest = values[first];
        for (var i = first + 1; i <= last; i++)
        {
            lowest = Math.Min(lowest, values[i]);
            highest = Math.Max(highest, values[i]);
        }

        double? before = first > 0 ? values[first - 1] : null;
        double? after = last + 1 < values.Length ? values[last + 1] : null;
        if (before is { } earlier && after is { } later)
        {
            return lowest > Math.Max(earlier, later) + (floor / 2) || highest < Math.Min(earlier, later) - (floor / 2);
        }

        // At an end there is one neighbor only. Up or down, what a ferment can do in that time is not a spike.
        var neighbor = before ?? after ?? values[first];
        var hours = first > 0
            ? track.Hours[kept[last]] - track.Hours[kept[first - 1]]
            : track.Hours[kept[last + 1]] - track.Hours[kept[first]];
        var allowance = floor + (FastestFall * hours);
        return first > 0
            ? lowest > neighbor + floor || highest < neighbor - allowance
            : lowest > neighbor + allowance || highest < neighbor - floor;
    }
}
