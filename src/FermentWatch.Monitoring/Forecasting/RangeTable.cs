namespace FermentWatch.Monitoring.Forecasting;

/// <summary>How much narrower or wider the ranges must be than the odds of the curve say, and at which odds the ends of the finish lie: learned from drawn ferments.</summary>
/// <remarks>
/// <para><b>What it mends.</b> The curve's odds are too wide in the middle where the prior of the dry end decides, and too narrow at both ends once hardly
/// anything is left to fall or where the readings leave everything open.</para>
/// <para><b>Where it comes from.</b> 1,631 looks at 418 drawn ferments (`ferments`: `cells` seeds 71000 on, 99 of them, and 81000 on, 110; `transporters` seeds
/// 71000 on, 99, and 82000 on, 110), at 30, 50, 70 and 90 % of the sugar that will be used. At each knot the factor is the weighted quantile (0.52 for the inner
/// range, 0.925 for the outer one) of the miss in half ranges, weighted by a normal kernel (0.35 in the logarithm of the width, 0.12 to 0.04 in the share), drawn
/// towards 1 with the weight of 20 looks and kept at 0.65 (inner), 0.85 (outer) and more: real ferments vary more than drawn ones. The odds of the finish are
/// the 4 and 96 % points of the odds at which it truly came. Factors learned on either structure alone bring the other one's ranges to
/// 0.46 to 0.59 (1 in 2) and 0.87 to 0.96 (9 in 10).</para>
/// <para>The median stays where the curve puts it.</para>
/// </remarks>
internal static class RangeTable
{
    private static readonly double[] Widths = [5, 9, 13, 24, 50];
    private static readonly double[] Shares = [0.4, 0.65, 0.8, 0.9, 0.98];

    private static readonly double[][] Inner =
    [
        [0.89, 0.80, 0.66, 0.65, 0.75],
        [0.98, 0.84, 0.73, 0.75, 1.02],
        [1.01, 0.90, 0.82, 0.94, 1.17],
        [0.99, 0.89, 0.86, 1.18, 1.38],
        [1.24, 0.94, 0.99, 1.34, 1.33],
    ];

    private static readonly double[][] Outer =
    [
        [0.90, 0.85, 0.85, 0.89, 1.05],
        [0.94, 0.85, 0.85, 1.05, 1.12],
        [0.94, 0.86, 0.85, 1.09, 1.32],
        [0.95, 0.91, 1.03, 1.19, 1.12],
        [1.06, 1.09, 1.28, 1.16, 1.06],
    ];

    private static readonly double[] Earliest = [0.04, 0.025, 0.015, 0.015, 0.05];
    private static readonly double[] Early = [0.18, 0.18, 0.18, 0.18, 0.25];
    private static readonly double[] Late = [0.62, 0.62, 0.62, 0.65, 0.75];
    // A yeast that nears its tolerance stops sooner than its curve: no odds of the curve reach there.
    private static readonly double[] EarliestParts = [1, 1, 1, 0.8, 0.9];
    private static readonly double[] Latest = [0.90, 0.90, 0.89, 0.89, 0.95];

    /// <summary>The five quantiles with corrected ranges, still in rising order.</summary>
    /// <param name="raw">Quantiles of the end as the curve's odds give them. [points]</param>
    /// <param name="share">Share of the fall that lies behind, 0 to 1.</param>
    public static Quantiles<double> Corrected(Quantiles<double> raw, double share)
    {
        ArgumentNullException.ThrowIfNull(raw);
        var width = Math.Log(Math.Max(raw.P95 - raw.P05, 1));
        var (inner, outer) = (At(Inner, share, width), At(Outer, share, width));
        var low = raw.P50 - (inner * (raw.P50 - raw.P25));
        var high = raw.P50 + (inner * (raw.P75 - raw.P50));
        return new Quantiles<double>(
            Math.Min(low, raw.P50 - (outer * (raw.P50 - raw.P05))),
            low,
            raw.P50,
            high,
            Math.Max(high, raw.P50 + (outer * (raw.P95 - raw.P50))));
    }

    /// <summary>The odds at which the five quantiles of the finish are to be read.</summary>
    /// <param name="share">Share of the fall that lies behind, 0 to 1.</param>
    public static Quantiles<double> FinishOdds(double share) =>
        new(Along(Earliest, share), Along(Early, share), 0.5, Along(Late, share), Along(Latest, share));

    /// <summary>Part of the time to come by which the earliest quantile of the finish lies nearer than at its odds.</summary>
    /// <param name="share">Share of the fall that lies behind, 0 to 1.</param>
    public static double EarliestPart(double share) => Along(EarliestParts, share);

    private static double At(double[][] table, double share, double logWidth)
    {
        var (column, part) = Place(logWidth, static i => Math.Log(Widths[i]), Widths.Length);
        var across = Array.ConvertAll(table, row => row[column] + (part * (row[column + 1] - row[column])));
        return Along(across, share);
    }

    private static double Along(double[] values, double share)
    {
        var (row, part) = Place(share, static i => Shares[i], Shares.Length);
        return values[row] + (part * (values[row + 1] - values[row]));
    }

    /// <summary>The knot before a value, and how far it is on the way to the next; the outermost knots hold beyond.</summary>
    private static (int Knot, double Part) Place(double value, Func<int, double> knot, int count)
    {
        var place = 0;
        while (place < count - 2 && knot(place + 1) <= value)
        {
            place++;
        }

        var (from, to) = (knot(place), knot(place + 1));
        return (place, Math.Clamp((value - from) / (to - from), 0, 1));
    }
}
