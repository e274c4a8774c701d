using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tasting;

/// <summary>Chance of a number of right answers among independent answers that all have the same chance of being right.</summary>
public static class BinomialTail
{
    /// <summary>Most answers that can be counted.</summary>
    public const int MostAnswers = 1000;

    /// <summary>Probability of at least <paramref name="right"/> right answers. 0 to 1.</summary>
    /// <remarks>
    /// <para><b>Equation.</b> P(X ≥ x) = Σ C(n, k)·pᵏ·(1 − p)ⁿ⁻ᵏ over k = x … n, summed term by term.</para>
    /// <para><b>Valid.</b> n from 0 to 1000, p from 0.05 to 0.95. <b>Error.</b> Rounding of double arithmetic, about 1e-13 relative.</para>
    /// <para><b>Source.</b> The binomial distribution. <b>Check.</b> DifferenceTestTests, against [FAOTriangle].</para>
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">Outside the valid range.</exception>
    public static double AtLeast(int right, int answers, double chance)
    {
        QuantityRange.Require(answers, 0, MostAnswers, "answers", "answers");
        QuantityRange.Require(chance, 0.05, 0.95, "chance of a right answer", "(probability)");
        if (right <= 0)
        {
            return 1;
        }

        var sum = 0.0;
        var logarithm = answers * Math.Log(chance);
        for (var count = answers; count >= right; count--)
        {
            sum += Math.Exp(logarithm);
            logarithm += Math.Log(count) - Math.Log(answers - count + 1) + Math.Log(1 - chance) - Math.Log(chance);
        }

        return Math.Min(1, sum);
    }
}
