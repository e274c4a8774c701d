namespace FermentWatch.Monitoring.Forecasting;

/// <summary>How much a run of residuals that lean on their neighbors is worth.</summary>
/// <remarks>
/// <para><b>Equation.</b> ρ = Σ r(i) r(i-1) / Σ r(i)² about the mean; variance of a mean or slope grows by (1 + ρ)/(1 - ρ), so the likelihood
/// is tempered by the inverse. <b>Source.</b> G. E. P. Box, G. M. Jenkins, Time Series Analysis. <b>Check.</b> CorrelatedNoiseTests (Lake Huron).</para>
/// </remarks>
public static class CorrelatedNoise
{
    /// <summary>Correlation of neighbors, -1 to 1; 0 for fewer than three numbers or for equal ones.</summary>
    public static double LagOne(ReadOnlySpan<double> residuals)
    {
        if (residuals.Length < 3)
        {
            return 0;
        }

        var mean = 0.0;
        foreach (var residual in residuals)
        {
            mean += residual / residuals.Length;
        }

        double product = 0, square = 0;
        for (var i = 0; i < residuals.Length; i++)
        {
            square += (residuals[i] - mean) * (residuals[i] - mean);
            if (i > 0)
            {
                product += (residuals[i] - mean) * (residuals[i - 1] - mean);
            }
        }

        return square > 0 ? product / square : 0;
    }

    /// <summary>Factor by which the variance of a mean or slope grows, at least 1. Negative correlation is not credited.</summary>
    public static double Inflation(double lagOne)
    {
        var rho = Math.Clamp(lagOne, 0, 0.995);
        return (1 + rho) / (1 - rho);
    }

    /// <summary>The same from residuals, by neighbors and by means of blocks, whichever is more: slow wander shows in the blocks only.</summary>
    /// <param name="residuals">In time order; large ones are cut at four.</param>
    /// <param name="blockLength">Numbers in a block, at least 2.</param>
    public static double Inflation(ReadOnlySpan<double> residuals, int blockLength)
    {
        var cut = new double[residuals.Length];
        for (var i = 0; i < cut.Length; i++)
        {
            cut[i] = Math.Clamp(residuals[i], -4, 4);
        }

        var byNeighbors = Inflation(LagOne(cut));
        var blocks = cut.Length / Math.Max(2, blockLength);
        if (blocks < 5)
        {
            return byNeighbors;
        }

        double single = 0, block = 0;
        var length = cut.Length / blocks;
        for (var b = 0; b < blocks; b++)
        {
            var sum = 0.0;
            for (var i = b * length; i < (b + 1) * length; i++)
            {
                sum += cut[i];
                single += cut[i] * cut[i];
            }

            block += sum * sum;
        }

        return single > 0 ? Math.Max(byNeighbors, block / single) : byNeighbors;
    }
}
