namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>A spell in which readings left the curve and came back to it, by positions in the compressed series (last one included).</summary>
internal readonly record struct Excursion(int First, int Last, bool IsUpward);

/// <summary>Tells a jump that comes back (foam, bubbles, stirring) from one that stays (a knock, sugar).</summary>
internal static class ExcursionFinder
{
    /// <summary>Longest spell that is taken for foam or handling. [h] Common practice, no source.</summary>
    public const double LongestSpell = 36;

    /// <summary>From this rise on only a sharp return makes it foam: a slow fall after it is fermenting sugar. [points]</summary>
    public const double SugarRise = 8;

    private const double MostMismatch = 0.4;
    private const int LeastPoints = 5;
    private const int MostTrials = 72;

    public static Excursion? Find(LineSums sums, IReadOnlyList<Jump> jumps, double window)
    {
        for (var i = 0; i + 1 < jumps.Count; i++)
        {
            var rise = jumps[i];
            var fall = jumps[i + 1];
            var isReturn = Math.Sign(rise.Offset) != Math.Sign(fall.Offset)
                && fall.Hours - rise.Hours <= LongestSpell
                && Math.Abs(rise.Offset + fall.Offset) <= MostMismatch * Math.Max(Math.Abs(rise.Offset), Math.Abs(fall.Offset));
            if (isReturn)
            {
                return new Excursion(rise.Index, fall.Index - 1, rise.Offset > 0);
            }
        }

        for (var i = 0; i < jumps.Count; i++)
        {
            var earliest = i > 0 ? jumps[i - 1].Index : 0;
            var latest = i + 1 < jumps.Count ? jumps[i + 1].Index : sums.Hours.Length;
            if (jumps[i].Offset < 0 && SlowRiseBefore(sums, jumps[i], earliest, latest, window) is { } before)
            {
                return before;
            }

            if (jumps[i].Offset is > 0 and < SugarRise && SlowReturnAfter(sums, jumps[i], earliest, latest, window) is { } after)
            {
                return after;
            }
        }

        return null;
    }

    // Foam that built up slowly and fell in at once: only the end is a jump.
    private static Excursion? SlowRiseBefore(LineSums sums, Jump fall, int earliest, int latest, double window)
    {
        var end = sums.FirstAtOrAfter(fall.Hours + window, fall.Index, latest);
        var after = sums.Through(fall.Index, end);
        Excursion? best = null;
        var least = MostMismatch * Math.Abs(fall.Offset);
        for (var k = 1; k <= MostTrials; k++)
        {
            var start = sums.FirstAtOrAfter(fall.Hours - (LongestSpell * k / MostTrials), earliest, fall.Index);
            var from = sums.FirstAtOrAfter(sums.Hours[start] - window, earliest, start);
            if (start <= earliest || start - from < LeastPoints || end - fall.Index < LeastPoints)
            {
                continue;
            }

            var mismatch = Bridge(sums, sums.Through(from, start), after, start, fall.Index - 1, Math.Abs(fall.Offset));
            if (mismatch < least)
            {
                least = mismatch;
                best = new Excursion(start, fall.Index - 1, IsUpward: true);
            }
        }

        return best;
    }

    // Foam that came at once and sank slowly: only the start is a jump.
    private static Excursion? SlowReturnAfter(LineSums sums, Jump rise, int earliest, int latest, double window)
    {
        var begin = sums.FirstAtOrAfter(sums.Hours[rise.Index - 1] - window, earliest, rise.Index);
        var before = sums.Through(begin, rise.Index);
        Excursion? best = null;
        var least = MostMismatch * Math.Abs(rise.Offset);
        for (var k = 1; k <= MostTrials; k++)
        {
            var stop = sums.FirstAtOrAfter(rise.Hours + (LongestSpell * k / MostTrials), rise.Index, latest);
            if (stop >= latest || stop <= rise.Index)
            {
                continue;
            }

            var until = sums.FirstAtOrAfter(sums.Hours[stop] + window, stop, latest);
            if (until - stop < LeastPoints || rise.Index - begin < LeastPoints)
            {
                continue;
            }

            var mismatch = Bridge(sums, before, sums.Through(stop, until), rise.Index, stop - 1, Math.Abs(rise.Offset));
            if (mismatch < least)
            {
                least = mismatch;
                best = new Excursion(rise.Index, stop - 1, IsUpward: true);
            }
        }

        return best;
    }

    // How badly the curve before joins the curve after; infinite unless what lies between stands above the join.
    private static double Bridge(LineSums sums, Line before, Line after, int first, int last, double size)
    {
        if (last < first)
        {
            return double.PositiveInfinity;
        }

        var middle = (sums.Hours[first] + sums.Hours[last]) / 2;
        var mismatch = Math.Abs(after.At(middle) - before.At(middle));
        var between = sums.Through(first, last + 1);
        var expected = (after.At(between.MeanHours) + before.At(between.MeanHours)) / 2;
        return between.MeanPoints - expected > 0.4 * size ? mismatch : double.PositiveInfinity;
    }
}
