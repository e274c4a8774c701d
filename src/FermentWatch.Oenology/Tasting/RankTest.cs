using System.Collections.Immutable;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tasting;

/// <summary>What a ranking of glasses by several tasters came to.</summary>
/// <param name="Tasters">Tasters who ranked.</param>
/// <param name="RankSums">Sum of ranks of each glass, in the order of the columns.</param>
/// <param name="Statistic">Friedman's F, corrected for ties. Dimensionless.</param>
/// <param name="Probability">Chance of this or a more telling ranking if nobody perceives anything.</param>
/// <param name="IsExact">True when enumerated; false when taken from the chi-square approximation.</param>
/// <param name="LeastDifference">Two rank sums differ at 0.05 when they are at least this far apart, only after a significant test.</param>
/// <param name="Verdict">What it says.</param>
public sealed record RankResult(
    int Tasters,
    ImmutableArray<double> RankSums,
    double Statistic,
    double Probability,
    bool IsExact,
    double LeastDifference,
    TastingVerdict Verdict);

/// <summary>Friedman's test on glasses that every taster put in order.</summary>
public static class RankTest
{
    /// <summary>Friedman's F from the sum of squared rank sums, without ties. Dimensionless.</summary>
    /// <remarks><b>Equation.</b> F = 12/(n·k·(k + 1))·Σ Rⱼ² − 3·n·(k + 1). <b>Source.</b> [Friedman1937], used by ISO 8587.</remarks>
    public static double Statistic(double sumOfSquares, int glasses, int tasters) =>
        (12 * sumOfSquares / ((double)tasters * glasses * (glasses + 1))) - (3.0 * tasters * (glasses + 1));

    /// <summary>Least difference between two rank sums at the level 0.05.</summary>
    /// <remarks><b>Equation.</b> 1.96·√(n·k·(k + 1)/6). <b>Valid.</b> After a significant test of all glasses, n from about 5; below it is
    /// only a rough yardstick. <b>Source.</b> ISO 8587 practice. <b>Check.</b> RankTestTests.</remarks>
    public static double LeastDifference(int glasses, int tasters) => 1.96 * Math.Sqrt((double)tasters * glasses * (glasses + 1) / 6);

    /// <summary>Judges a ranking.</summary>
    /// <param name="ranks">A row a taster: rank of each glass from 1 to the number of glasses, ties as mean ranks.</param>
    /// <param name="level">Level asked for, 0.0001 to 0.5.</param>
    /// <remarks>Exact by enumeration where that is quick (<see cref="FriedmanDistribution.Tail"/>), otherwise the chi-square tail with
    /// k − 1 degrees of freedom, and said so. 'Not enough tasters' when even full agreement would not reach the level.</remarks>
    /// <exception cref="ArgumentException">Not 2 to 6 glasses, no taster, unequal rows, or a row that is not a ranking.</exception>
    public static RankResult Judge(IReadOnlyList<IReadOnlyList<double>> ranks, double level = DifferenceTest.UsualLevel)
    {
        ArgumentNullException.ThrowIfNull(ranks);
        QuantityRange.Require(level, 0.0001, 0.5, "level", "(probability)");
        var exact = FriedmanDistribution.Tail(ranks);
        var (tasters, glasses) = (ranks.Count, ranks[0].Count);
        for (var taster = 0; taster < tasters; taster++)
        {
            if (!IsRanking(ranks[taster]))
            {
                throw new ArgumentException($"Row {taster + 1} is not a ranking: it must be the ranks 1 to {glasses}, tied glasses with the mean of their ranks.", nameof(ranks));
            }
        }

        ImmutableArray<double> sums = [.. Enumerable.Range(0, glasses).Select(glass => ranks.Sum(row => row[glass]))];
        var ties = ranks.Sum(row => row.GroupBy(rank => rank).Sum(tie => Math.Pow(tie.Count(), 3) - tie.Count()));
        var correction = 1 - (ties / ((double)tasters * glasses * ((glasses * glasses) - 1)));
        var statistic = correction > 0 ? Math.Max(0, Statistic(sums.Sum(sum => sum * sum), glasses, tasters) / correction) : 0;
        var probability = exact ?? UpperTails.ChiSquare(statistic, glasses - 1);

        // If all agree, any taster's order is followed by all the others: k! orders, n - 1 followers.
        var ofFullAgreement = Math.Pow(Enumerable.Range(2, glasses - 1).Aggregate(1.0, (product, factor) => product * factor), 1 - tasters);
        var verdict = ofFullAgreement > level ? TastingVerdict.NotEnoughTasters
            : probability <= level ? TastingVerdict.Significant : TastingVerdict.NotSignificant;
        return new(tasters, sums, statistic, probability, exact is not null, LeastDifference(glasses, tasters), verdict);
    }

    /// <summary>Ranks from scores: the highest score gets rank 1, equal scores the mean of their ranks.</summary>
    public static ImmutableArray<double> RanksOf(IReadOnlyList<double> scores)
    {
        ArgumentNullException.ThrowIfNull(scores);
        return [.. scores.Select(score => scores.Count(other => other > score) + ((scores.Count(other => other.Equals(score)) + 1) / 2.0))];
    }

    private static bool IsRanking(IReadOnlyList<double> row) => row.SequenceEqual(RanksOf([.. row.Select(rank => -rank)]));
}
