using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tasting;

/// <summary>Triangle, duo-trio and paired tests, with exact probabilities.</summary>
public static class DifferenceTest
{
    /// <summary>Level that is asked for when none is given: chance may do it one time in twenty.</summary>
    public const double UsualLevel = 0.05;

    /// <summary>Chance that an answer is right by guessing: 1/3 or 1/2.</summary>
    public static double GuessChance(DifferenceMethod method) =>
        method is DifferenceMethod.Triangle or DifferenceMethod.OneOfThree ? 1.0 / 3 : 0.5;

    /// <summary>Chance of <paramref name="right"/> or more right answers if everybody guesses. 0 to 1.</summary>
    /// <remarks>
    /// <para><b>Equation.</b> P(X ≥ x | n, p) of <see cref="BinomialTail"/>, doubled (at most 1) for a two-sided pair, where
    /// <paramref name="right"/> counts the sample that was named more often.</para>
    /// <para><b>Source.</b> [FAOTriangle], [AWRIDuoTrio]. <b>Check.</b> DifferenceTestTests.</para>
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">Not 0 to 1000 tasters, or more right answers than tasters.</exception>
    public static double ProbabilityByChance(DifferenceMethod method, int tasters, int right)
    {
        QuantityRange.Require(right, 0, tasters, "right answers", "answers");
        var tail = BinomialTail.AtLeast(right, tasters, GuessChance(method));
        return method is DifferenceMethod.PairedTwoSided ? Math.Min(1, 2 * tail) : tail;
    }

    /// <summary>Smallest number of right answers that chance reaches no more often than <paramref name="level"/>; null when none does.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not 0 to 1000 tasters, or a level outside 0.0001 to 0.5.</exception>
    public static int? SmallestSignificant(DifferenceMethod method, int tasters, double level = UsualLevel)
    {
        QuantityRange.Require(level, 0.0001, 0.5, "level", "(probability)");
        for (var right = 0; right <= tasters; right++)
        {
            if (ProbabilityByChance(method, tasters, right) <= level)
            {
                return right;
            }
        }

        return null;
    }

    /// <summary>Tasters with whom the level can be reached at all, if every one is right: 3 in a triangle, 5 in a duo-trio at 0.05.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A level outside 0.0001 to 0.5.</exception>
    public static int FewestTasters(DifferenceMethod method, double level = UsualLevel)
    {
        var tasters = 1;
        while (SmallestSignificant(method, tasters, level) is null)
        {
            tasters++;
        }

        return tasters;
    }

    /// <summary>Chance that the test finds the difference when this share of tasters really perceives it. 0 to 1.</summary>
    /// <remarks><b>Equation.</b> P(X ≥ smallest significant | n, p + (1 − p)·d). 0 when the level can't be reached. For a two-sided
    /// pair it counts the right direction only.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">A share outside 0 to 1, or as for <see cref="SmallestSignificant"/>.</exception>
    public static double Power(DifferenceMethod method, int tasters, double shareDetecting, double level = UsualLevel)
    {
        var expected = ShareRight(method, shareDetecting);
        if (SmallestSignificant(method, tasters, level) is not { } smallest)
        {
            return 0;
        }

        return expected > 0.95 && shareDetecting >= 1 ? 1 : BinomialTail.AtLeast(smallest, tasters, Math.Min(expected, 0.95));
    }

    /// <summary>Share of right answers expected when this share of tasters really perceives it: p + (1 − p)·d.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A share outside 0 to 1.</exception>
    public static double ShareRight(DifferenceMethod method, double shareDetecting)
    {
        QuantityRange.Require(shareDetecting, 0, 1, "share detecting", "(share)");
        var guess = GuessChance(method);
        return guess + ((1 - guess) * shareDetecting);
    }

    /// <summary>Share of tasters that really perceives it, from the share of right answers: (r − p)/(1 − p), never below 0.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A share outside 0 to 1.</exception>
    public static double ShareDetecting(DifferenceMethod method, double shareRight)
    {
        QuantityRange.Require(shareRight, 0, 1, "share right", "(share)");
        var guess = GuessChance(method);
        return Math.Max(0, (shareRight - guess) / (1 - guess));
    }

    /// <summary>Judges a comparison.</summary>
    /// <param name="method">How the samples were compared.</param>
    /// <param name="tasters">Independent answers, 1 to 1000.</param>
    /// <param name="right">Right answers; for <see cref="DifferenceMethod.PairedTwoSided"/> answers for either one of the two samples.</param>
    /// <param name="level">Level asked for, 0.0001 to 0.5.</param>
    /// <exception cref="ArgumentOutOfRangeException">Outside these ranges.</exception>
    public static DifferenceResult Judge(DifferenceMethod method, int tasters, int right, double level = UsualLevel)
    {
        QuantityRange.Require(tasters, 1, BinomialTail.MostAnswers, "tasters", "people");
        QuantityRange.Require(right, 0, tasters, "right answers", "answers");
        var counted = method is DifferenceMethod.PairedTwoSided ? Math.Max(right, tasters - right) : right;
        var smallest = SmallestSignificant(method, tasters, level);
        return new(
            method,
            tasters,
            counted,
            level,
            ProbabilityByChance(method, tasters, counted),
            smallest,
            FewestTasters(method, level),
            method is DifferenceMethod.PairedTwoSided ? 0 : ShareDetecting(method, (double)counted / tasters),
            smallest is null ? TastingVerdict.NotEnoughTasters
                : counted >= smallest ? TastingVerdict.Significant : TastingVerdict.NotSignificant);
    }
}
