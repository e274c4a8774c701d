using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Tasting;

/// <summary>Upper tails of the chi-square and F distributions, for panels too large to enumerate and for fitted curves.</summary>
public static class UpperTails
{
    /// <summary>Probability that a chi-square value with these degrees of freedom is at least <paramref name="value"/>.</summary>
    /// <remarks><b>Equation.</b> Q(a, y) with a = degrees/2, y = value/2, by Q(a + 1, y) = Q(a, y) + yᵃ·e⁻ʸ/Γ(a + 1) from Q(1, y) = e⁻ʸ or
    /// Q(1/2, y) = erfc(√y). <b>Valid.</b> 1 to 20 degrees, value 0 to 500. <b>Error.</b> 1e-13 absolute. <b>Source.</b> Textbook identity.
    /// <b>Check.</b> RankTestTests.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">Outside the valid range.</exception>
    public static double ChiSquare(double value, int degrees)
    {
        QuantityRange.Require(value, 0, 500, "chi-square", "(dimensionless)");
        QuantityRange.Require(degrees, 1, 20, "degrees of freedom", "(count)");
        var y = value / 2;
        var isEven = degrees % 2 == 0;
        var order = isEven ? 1.0 : 0.5;
        var tail = isEven ? Math.Exp(-y) : ComplementaryError(Math.Sqrt(y));
        var term = isEven ? y * Math.Exp(-y) : 2 * Math.Sqrt(y / Math.PI) * Math.Exp(-y);
        while (order < degrees / 2.0)
        {
            tail += term;
            order++;
            term *= y / order;
        }

        return Math.Clamp(tail, 0, 1);
    }

    /// <summary>Chi-square value that is exceeded with this probability, by bisection to 1e-9.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A probability outside 0.0001 to 0.9999, or degrees outside 1 to 20.</exception>
    public static double ChiSquareCritical(double probability, int degrees)
    {
        QuantityRange.Require(probability, 0.0001, 0.9999, "probability", "(probability)");
        var (low, high) = (0.0, 100.0);
        while (high - low > 1e-9)
        {
            var middle = (low + high) / 2;
            (low, high) = ChiSquare(middle, degrees) > probability ? (middle, high) : (low, middle);
        }

        return (low + high) / 2;
    }

    /// <summary>Probability that an F value with these degrees of freedom is at least <paramref name="value"/>.</summary>
    /// <remarks><b>Equation.</b> The regularized incomplete beta function I(d₂/(d₂ + d₁F); d₂/2, d₁/2), by its continued fraction.
    /// <b>Valid.</b> 1 to 10⁶ degrees. <b>Error.</b> 1e-8 absolute. <b>Source.</b> Textbook identity.
    /// <b>Check.</b> RankTestTests, ResponseSurfaceTests.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">A negative value, or degrees outside 1 to 10⁶.</exception>
    public static double F(double value, double above, double below)
    {
        QuantityRange.Require(value, 0, double.MaxValue, "F", "(dimensionless)");
        QuantityRange.Require(above, 1, 1e6, "degrees of freedom above", "(count)");
        QuantityRange.Require(below, 1, 1e6, "degrees of freedom below", "(count)");
        return value <= 0 ? 1 : IncompleteBeta(above * value / (below + (above * value)), above / 2, below / 2);
    }

    // Probability that a beta variable of (a, b) is above x.
    private static double IncompleteBeta(double x, double a, double b)
    {
        var front = Math.Exp((a * Math.Log(x)) + (b * LogOneMinus(x)) + LogGamma(a + b) - LogGamma(a) - LogGamma(b));
        return x < (a + 1) / (a + b + 2)
            ? 1 - (front * Fraction(x, a, b) / a)
            : front * Fraction(1 - x, b, a) / b;
    }

    // 1 - erf(x); the series has no negative term, so nothing cancels inside it.
    private static double ComplementaryError(double x)
    {
        if (x > 6)
        {
            return 0;
        }

        var (term, sum) = (x, x);
        for (var n = 1; n < 200; n++)
        {
            term *= 2 * x * x / ((2 * n) + 1);
            sum += term;
        }

        return 1 - (2 / Math.Sqrt(Math.PI) * Math.Exp(-x * x) * sum);
    }

    private static double LogOneMinus(double x) => x < 1e-4 ? -x - (x * x / 2) - (x * x * x / 3) : Math.Log(1 - x);

    private static double Fraction(double x, double a, double b)
    {
        const double tiny = 1e-300;
        var c = 1.0;
        var d = 1 - ((a + b) * x / (a + 1));
        d = 1 / (Math.Abs(d) < tiny ? tiny : d);
        var result = d;
        for (var m = 1; m <= 500; m++)
        {
            foreach (var term in new[]
            {
                m * (b - m) * x / ((a + (2 * m) - 1) * (a + (2 * m))),
                -(a + m) * (a + b + m) * x / ((a + (2 * m)) * (a + (2 * m) + 1)),
            })
            {
                d = 1 + (term * d);
                c = 1 + (term / c);
                d = 1 / (Math.Abs(d) < tiny ? tiny : d);
                c = Math.Abs(c) < tiny ? tiny : c;
                result *= d * c;
            }

            if (Math.Abs((d * c) - 1) < 1e-15)
            {
                break;
            }
        }

        return result;
    }

    // Stirling's series after shifting the argument above 10.
    private static double LogGamma(double x)
    {
        var shift = 0.0;
        while (x < 10)
        {
            shift += Math.Log(x);
            x++;
        }

        var inverse = 1 / (x * x);
        return ((x - 0.5) * Math.Log(x)) - x + (0.5 * Math.Log(2 * Math.PI))
            + ((1.0 / 12) - (inverse * ((1.0 / 360) - (inverse * ((1.0 / 1260) - (inverse / 1680)))))) / x
            - shift;
    }
}
