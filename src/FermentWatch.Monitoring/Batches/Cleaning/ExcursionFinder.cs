namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>A spell in which readings left the curve and came back to it, by positions in the compressed series (last one included).</summary>
internal readonly record struct Excursion(int First, int Last, bool IsUpward);

/// <summary>Tells a jump that comes back (foam, bubbles, stirring) from one that stays (a knock, sugar).</summary>
internal static class ExcursionFinder
{
    /// <summary>Longest spell that is taken for foam or handling. [h] Common practice, no source.</summary>
    public const double LongestSpell = 36;

    /// <summary>
    /// From this rise on only a sharp return makes it foam: a slow fall after it is fermenting sugar. The least feed that the product
    /// looks for is 8 points, less what noise may hide. [points] Common practice, no source.
    /// </summary>
    public const double SugarRise = 7;

    /// <summary>How well a rise and the fall after it must cancel, as a share of the larger one.</summary>
    private const double MostMismatch = 0.4;

    /// <summary>Shortest stretch of the curve on either side of a spell by which it is judged. [h]</summary>
    private const double Beside = 12;

    /// <summary>Gain in log likelihood from which a spell is believed; a lasting step needs no gain, since it has one edge less to choose.</summary>
    private const double Clear = 3;

    private const int LeastPoints = 5;

    /// <summary>The first spell that is believed, or null; steps that may be the edge of one and may not are added to <paramref name="unclear"/>.</summary>
    public static Excursion? Find(LineSums sums, IReadOnlyList<Jump> jumps, double correlation, ISet<int> unclear)
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

        unclear.Clear();
        for (var i = 0; i < jumps.Count; i++)
        {
            if (jumps[i].Offset >= SugarRise)
            {
                continue;
            }

            var earliest = i > 0 ? jumps[i - 1].Index : 0;
            var latest = i + 1 < jumps.Count ? jumps[i + 1].Index : sums.Hours.Length;
            var (spell, gain) = BestSpell(sums, jumps[i], earliest, latest, correlation);
            if (gain > Clear && spell is not null)
            {
                return spell;
            }

            if (gain > 0)
            {
                unclear.Add(jumps[i].Index);
            }
        }

        return null;
    }

    // Foam may build up slowly and fall in at once, or come at once and sink slowly: then one edge only is a jump, and the other is
    // where a smooth curve with a bump explains the readings best. The rival is a smooth curve with a lasting step.
    private static (Excursion? Spell, double Gain) BestSpell(LineSums sums, Jump jump, int earliest, int latest, double correlation)
    {
        Excursion? best = null;
        var bestGain = double.NegativeInfinity;
        for (var length = 1.0; length <= LongestSpell; length++)
        {
            int first;
            int until;
            if (jump.Offset < 0)
            {
                until = jump.Index;
                first = sums.FirstAtOrAfter(jump.Hours - length, earliest, until);
            }
            else
            {
                first = jump.Index;
                until = sums.FirstAtOrAfter(jump.Hours + length, first, latest);
            }

            var from = sums.FirstAtOrAfter(sums.Hours[first] - Beside, earliest, first);
            var end = until < latest ? sums.FirstAtOrAfter(sums.Hours[until] + Beside, until, latest) : until;
            if (first - from < LeastPoints || end - until < LeastPoints || until - first < LeastPoints)
            {
                continue;
            }

            var bump = BumpFit.Residual(sums, from, end, first, until, out var height);
            var step = BumpFit.Residual(sums, from, end, jump.Index, end, out _);
            var gain = (end - from) / (2 * correlation) * Math.Log(Math.Max(step, 1e-6) / Math.Max(bump, 1e-6));
            if (gain > bestGain && height > 0)
            {
                bestGain = gain;
                best = new Excursion(first, until - 1, IsUpward: true);
            }
        }

        return (best, bestGain);
    }
}
