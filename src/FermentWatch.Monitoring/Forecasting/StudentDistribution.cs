namespace FermentWatch.Monitoring.Forecasting;

/// <summary>Student's t: probabilities and quantiles.</summary>
/// <remarks>
/// <para><b>Equation.</b> P(T ≤ t) = 1 - I_x(ν/2, 1/2)/2 for t ≥ 0, x = ν/(ν + t²); I by its continued fraction (modified Lentz).</para>
/// <para><b>Valid.</b> ν from 0.5 up, not only whole numbers: an effective sample size is a fraction. <b>Error.</b> 1e-9 relative.</para>
/// <para><b>Source.</b> NIST Digital Library of Mathematical Functions, 8.17.22. <b>Check.</b> StudentDistributionTests, tables and another library.</para>
/// </remarks>
public static class StudentDistribution
{
    /// <summary>P(T ≤ <paramref name="t"/>).</summary>
    public static double Cumulative(double t, double degreesOfFreedom)
    {
        var tail = 0.5 * IncompleteBeta(degreesOfFreedom / 2, 0.5, degreesOfFreedom / (degreesOfFreedom + (t * t)));
        return t >= 0 ? 1 - tail : tail;
    }

    /// <summary>The t below which a share <paramref name="probability"/> (0 to 1, exclusive) lies.</summary>
    public static double Quantile(double probability, double degreesOfFreedom)
    {
        if (probability == 0.5)
        {
            return 0;
        }

        if (probability < 0.5)
        {
            return -Quantile(1 - probability, degreesOfFreedom);
        }

        double low = 0, high = 1;
        while (Cumulative(high, degreesOfFreedom) < probability && high < 1e12)
        {
            high *= 2;
        }

        for (var i = 0; i < 200 && high - low > 1e-13 * high; i++)
        {
            var middle = (low + high) / 2;
            if (Cumulative(middle, degreesOfFreedom) < probability)
            {
                low = middle;
            }
            else
            {
                high = middle;
            }
        }

        return (low + high) / 2;
    }

    private static double IncompleteBeta(double a, double b, double x)
    {
        if (x <= 0 || x >= 1)
        {
            return x <= 0 ? 0 : 1;
        }

        var front = Math.Exp(LogGamma(a + b) - LogGamma(a) - LogGamma(b) + (a * Math.Log(x)) + (b * Math.Log(1 - x)));
        return x < (a + 1) / (a + b + 2)
            ? front * Fraction(a, b, x) / a
            : 1 - (front * Fraction(b, a, 1 - x) / b);
    }

    private static double Fraction(double a, double b, double x)
    {
        const double Tiny = 1e-300;
        double c = 1, d = 1 - ((a + b) * x / (a + 1));
        d = 1 / (Math.Abs(d) < Tiny ? Tiny : d);
        var h = d;
        for (var m = 1; m <= 500; m++)
        {
            var even = m * (b - m) * x / ((a + (2 * m) - 1) * (a + (2 * m)));
            var odd = -(a + m) * (a + b + m) * x / ((a + (2 * m)) * (a + (2 * m) + 1));
            d = 1 + (even * d);
            d = 1 / (Math.Abs(d) < Tiny ? Tiny : d);
            c = 1 + (even / c);
            h *= d * c;
            d = 1 + (odd * d);
            d = 1 / (Math.Abs(d) < Tiny ? Tiny : d);
            c = 1 + (odd / c);
            h *= d * c;
            if (Math.Abs((d * c) - 1) < 1e-15)
            {
                break;
            }
        }

        return h;
    }

    /// <summary>Stirling's series after shifting the argument above 15; 1e-14 relative.</summary>
    private static double LogGamma(double x)
    {
        var shift = 0.0;
        while (x < 15)
        {
            shift -= Math.Log(x);
            x++;
        }

        var inverse = 1 / (x * x);
        var series = ((((((1 / 1188.0) * inverse) - (1 / 1680.0)) * inverse) + (1 / 1260.0)) * inverse) - (1 / 360.0);
        return shift + ((x - 0.5) * Math.Log(x)) - x + (0.5 * Math.Log(2 * Math.PI)) + (((series * inverse) + (1 / 12.0)) / x);
    }
}
