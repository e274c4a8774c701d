using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tasting;

/// <summary>How the rank sums of a panel fall when nobody perceives anything: every order of glasses is equally likely for each taster.</summary>
public static class FriedmanDistribution
{
    // Work that a page can wait for: partial sums times orders.
    private const long MostWork = 20_000_000;

    /// <summary>Probability that the squared rank sums are at least as large as these, by enumeration; null when that takes too long.</summary>
    /// <param name="ranks">A row a taster: the ranks that the glasses got, ties as mean ranks (1, 2.5, 2.5).</param>
    /// <remarks>
    /// <para><b>Equation.</b> P(Σ Rⱼ² ≥ observed) over all k! orders of each taster's own ranks, so ties are treated exactly; F is a rising
    /// function of Σ Rⱼ², so this is its tail. Rank sums that differ only by the names of the glasses are counted together.</para>
    /// <para><b>Valid.</b> 2 to 6 glasses; tasters as long as the enumeration stays below 20 million additions (all of 3 glasses to 100
    /// tasters, 4 to about 40, 5 to 12, 6 to 6). <b>Error.</b> Rounding only. <b>Source.</b> [Friedman1937]. <b>Check.</b> RankTestTests.</para>
    /// </remarks>
    /// <exception cref="ArgumentException">Not 2 to 6 glasses, no taster, or rows of unequal length.</exception>
    public static double? Tail(IReadOnlyList<IReadOnlyList<double>> ranks)
    {
        ArgumentNullException.ThrowIfNull(ranks);
        var glasses = ranks.Count > 0 ? ranks[0].Count : 0;
        if (glasses is < 2 or > 6 || ranks.Any(row => row.Count != glasses))
        {
            throw new ArgumentException("Ranks must be one row a taster, at least one, each for the same 2 to 6 glasses.", nameof(ranks));
        }

        // Doubled ranks are whole numbers.
        var rows = ranks.Select(row => row.Select(rank => (int)Math.Round(2 * rank)).ToArray()).ToList();
        var observed = Squares([.. Enumerable.Range(0, glasses).Select(glass => rows.Sum(row => row[glass]))]);
        var orders = Orders(glasses);
        var states = new Dictionary<ulong, double> { [0] = 1 };
        var work = 0L;
        foreach (var row in rows)
        {
            work += (long)states.Count * orders.Count;
            if (work > MostWork)
            {
                return null;
            }

            states = Add(states, row, orders, glasses);
        }

        return states.Where(state => Squares(Unpack(state.Key, glasses)) >= observed).Sum(state => state.Value);
    }

    /// <summary>Smallest statistic F that chance reaches no more often than <paramref name="level"/>, without ties; null when there is none.</summary>
    /// <remarks>As printed in tables of exact critical values. Same enumeration, range and source as <see cref="Tail"/>.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">Not 2 to 6 glasses, not 1 to 40 tasters, or too large to enumerate.</exception>
    public static double? CriticalStatistic(int glasses, int tasters, double level)
    {
        QuantityRange.Require(glasses, 2, 6, "glasses", "glasses");
        QuantityRange.Require(tasters, 1, 40, "tasters", "people");
        var row = Enumerable.Range(1, glasses).Select(rank => 2 * rank).ToArray();
        var orders = Orders(glasses);
        var states = new Dictionary<ulong, double> { [0] = 1 };
        var work = 0L;
        for (var taster = 0; taster < tasters; taster++)
        {
            work += (long)states.Count * orders.Count;
            QuantityRange.Require(work, 0, MostWork, "enumeration of ranks", "additions");
            states = Add(states, row, orders, glasses);
        }

        var tail = 0.0;
        double? critical = null;
        foreach (var group in states.GroupBy(state => Squares(Unpack(state.Key, glasses)), state => state.Value).OrderByDescending(group => group.Key))
        {
            tail += group.Sum();
            if (tail > level + 1e-12)
            {
                break;
            }

            critical = RankTest.Statistic(group.Key / 4.0, glasses, tasters);
        }

        return critical;
    }

    private static Dictionary<ulong, double> Add(Dictionary<ulong, double> states, int[] row, List<int[]> orders, int glasses)
    {
        var next = new Dictionary<ulong, double>();
        var sums = new int[glasses];
        foreach (var (packed, probability) in states)
        {
            var before = Unpack(packed, glasses);
            foreach (var order in orders)
            {
                for (var glass = 0; glass < glasses; glass++)
                {
                    sums[glass] = before[glass] + row[order[glass]];
                }

                Array.Sort(sums);
                var key = Pack(sums);
                next[key] = next.GetValueOrDefault(key) + (probability / orders.Count);
            }
        }

        return next;
    }

    private static long Squares(int[] sums) => sums.Sum(sum => (long)sum * sum);

    // Ten bits a sum: doubled rank sums stay below 1024 up to 85 tasters with 6 glasses.
    private static ulong Pack(int[] sums) => sums.Aggregate(0UL, (packed, sum) => (packed << 10) | (uint)sum);

    private static int[] Unpack(ulong packed, int glasses)
    {
        var sums = new int[glasses];
        for (var glass = glasses - 1; glass >= 0; glass--)
        {
            sums[glass] = (int)(packed & 1023);
            packed >>= 10;
        }

        return sums;
    }

    private static List<int[]> Orders(int glasses) => glasses == 0
        ? [[]]
        : [.. Orders(glasses - 1).SelectMany(order => Enumerable.Range(0, glasses).Select(place => (int[])[.. order[..place], glasses - 1, .. order[place..]]))];
}
