using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>Sets aside what cannot be a gravity of must, wine or mead, and the hours in which readings jump about, as in racking.</summary>
internal static class RubbishFilter
{
    /// <summary>Below any finished wine or mead with a margin for the sensor's own offset. [points] Common practice, no source.</summary>
    public const double LowestPossible = -30;

    /// <summary>Above any must that yeast starts in, with a margin. [points] Common practice, no source.</summary>
    public const double HighestPossible = 250;

    private const double LeastJump = 8;
    private const double LeastNoises = 8;
    private const int LeastBad = 3;
    // A device that is out of the liquid sends much that no scale can show and that never comes this far: what is left has gaps.
    private const double ShortestSpacing = 1.5;
    private const double LongestSpacing = 4;
    private const double LeastShare = 0.4;

    public static void SetAsideImpossible(GravityTrack track)
    {
        for (var i = 0; i < track.Count; i++)
        {
            if (track.Readings[i].Reach == CalibrationReach.Beyond)
            {
                track.Marks[i] = Mark.BeyondCalibration;
            }
            else if (track.Points[i] is < LowestPossible or > HighestPossible && track.Marks[i] == Mark.Kept)
            {
                track.Marks[i] = Mark.Impossible;
            }
        }
    }

    /// <summary>Finds spells in which at least three readings are impossible or jump wildly from the one before.</summary>
    public static void SetAsideHandling(GravityTrack track)
    {
        var kept = track.KeptPositions();
        var values = new double[kept.Length];
        for (var i = 0; i < kept.Length; i++)
        {
            values[i] = track.Points[kept[i]];
        }

        var spacing = double.IsNaN(track.MedianInterval) ? LongestSpacing : Math.Clamp(4 * track.MedianInterval, ShortestSpacing, LongestSpacing);
        var jump = Math.Max(LeastJump, LeastNoises * SpikeFilter.NoiseOf(values));
        var bad = new bool[track.Count];
        for (var i = 0; i < track.Count; i++)
        {
            bad[i] = track.Marks[i] == Mark.Impossible;
        }

        for (var i = 1; i < kept.Length; i++)
        {
            // A jump over a long silence says nothing about scatter.
            if (Math.Abs(values[i] - values[i - 1]) > jump && track.Hours[kept[i]] - track.Hours[kept[i - 1]] <= spacing)
            {
                bad[kept[i]] = true;
            }
        }

        SetAsideClusters(track, bad, spacing);
    }

    private static void SetAsideClusters(GravityTrack track, bool[] bad, double spacing)
    {
        var first = -1;
        var last = -1;
        var count = 0;
        for (var i = 0; i <= track.Count; i++)
        {
            var ends = i == track.Count || (bad[i] && last >= 0 && track.Hours[i] - track.Hours[last] > spacing);
            if (ends)
            {
                SetAsideCluster(track, first, last, count);
                first = -1;
                count = 0;
            }

            if (i < track.Count && bad[i])
            {
                first = first < 0 ? i : first;
                last = i;
                count++;
            }
        }
    }

    private static void SetAsideCluster(GravityTrack track, int first, int last, int count)
    {
        if (count < LeastBad || first < 0)
        {
            return;
        }

        // Now and then a wild reading is a sensor's habit; a vessel being handled spoils most of them.
        if (count < LeastShare * (last - first + 1))
        {
            return;
        }

        // The reading at the last jump is the first good one, unless it is impossible itself.
        var end = track.Marks[last] == Mark.Impossible ? last : last - 1;
        if (end > first)
        {
            track.SetAside(first, end, Mark.Handling);
        }
    }
}
