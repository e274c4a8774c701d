namespace FermentWatch.Monitoring.Forecasting;

/// <summary>A straight line through points in time, with the error of its slope when neighbors are alike.</summary>
/// <param name="Slope">Slope by least squares, in units of y a unit of x.</param>
/// <param name="StandardError">Its standard error with the noise taken as independent.</param>
/// <param name="LagOne">Correlation of neighboring residuals.</param>
/// <param name="Count">Number of points.</param>
public readonly record struct SlopeTest(double Slope, double StandardError, double LagOne, int Count)
{
    /// <summary>Factor on the variance from correlated noise, at least 1.</summary>
    public double Inflation => CorrelatedNoise.Inflation(LagOne);

    /// <summary>Number of independent points that the correlated ones are worth, at least 3.</summary>
    public double EffectiveCount => Math.Max(3, Count / Inflation);

    /// <summary>Standard error that counts the correlation.</summary>
    public double HonestError => StandardError * Math.Sqrt(Inflation);

    /// <summary>Least squares through points in time order; null for fewer than three points or no span in x.</summary>
    public static SlopeTest? Through(ReadOnlySpan<double> x, ReadOnlySpan<double> y)
    {
        var count = x.Length;
        if (count < 3)
        {
            return null;
        }

        double meanX = 0, meanY = 0;
        for (var i = 0; i < count; i++)
        {
            meanX += x[i] / count;
            meanY += y[i] / count;
        }

        double squares = 0, products = 0;
        for (var i = 0; i < count; i++)
        {
            squares += (x[i] - meanX) * (x[i] - meanX);
            products += (x[i] - meanX) * (y[i] - meanY);
        }

        if (squares <= 0)
        {
            return null;
        }

        var slope = products / squares;
        var residuals = new double[count];
        var rest = 0.0;
        for (var i = 0; i < count; i++)
        {
            residuals[i] = y[i] - meanY - (slope * (x[i] - meanX));
            rest += residuals[i] * residuals[i];
        }

        return new SlopeTest(slope, Math.Sqrt(rest / (count - 2) / squares), CorrelatedNoise.LagOne(residuals), count);
    }

    /// <summary>Half-width of the two-sided interval of the slope that counts the correlation.</summary>
    /// <param name="level">Coverage, such as 0.9.</param>
    public double HalfWidth(double level) =>
        HonestError * StudentDistribution.Quantile((1 + level) / 2, Math.Max(1, EffectiveCount - 2));

    /// <summary>Equivalence by two one-sided tests at 5 %: whether the 90 % interval lies inside ± <paramref name="limit"/>.</summary>
    /// <remarks><b>Source.</b> D. J. Schuirmann, J. Pharmacokinet. Biopharm. 15 (1987) 657-680. <b>Check.</b> SlopeTestTests.</remarks>
    public bool IsWithin(double limit) => Math.Abs(Slope) + HalfWidth(0.9) < limit;
}
