using FermentWatch.Monitoring.Batches.Cleaning;

namespace FermentWatch.Monitoring.Telemetry.Calibration;

/// <summary>Slopes that a few wild values do not move: the median of the slopes between all pairs (Theil 1950, Sen 1968).</summary>
public static class TheilSen
{
    private const double NormalQuantile = 1.959964;

    /// <summary>Median slope; 0 when all x are the same.</summary>
    public static double Slope(IReadOnlyList<double> x, IReadOnlyList<double> y)
    {
        var slopes = Slopes(x, y);
        return slopes.Length == 0 ? 0 : Hampel.MedianInPlace(slopes);
    }

    /// <summary>Slope with its 95 % interval by the variance of Kendall's statistic without ties (Sen 1968); the values are taken to be independent.</summary>
    public static (double Slope, double Low, double High) Interval(IReadOnlyList<double> x, IReadOnlyList<double> y)
    {
        var slopes = Slopes(x, y);
        if (slopes.Length == 0)
        {
            return (0, double.NegativeInfinity, double.PositiveInfinity);
        }

        Array.Sort(slopes);
        double n = x.Count;
        var spread = NormalQuantile * Math.Sqrt(n * (n - 1) * ((2 * n) + 5) / 18);
        var low = (int)Math.Floor((slopes.Length - spread) / 2);
        var high = (int)Math.Ceiling((slopes.Length + spread) / 2);
        return (
            Hampel.MedianInPlace(slopes.ToArray()),
            low < 1 ? double.NegativeInfinity : slopes[low - 1],
            high >= slopes.Length ? double.PositiveInfinity : slopes[high]);
    }

    private static double[] Slopes(IReadOnlyList<double> x, IReadOnlyList<double> y)
    {
        var slopes = new List<double>();
        for (var i = 0; i < x.Count; i++)
        {
            for (var j = i + 1; j < x.Count; j++)
            {
                if (!x[i].Equals(x[j]))
                {
                    slopes.Add((y[j] - y[i]) / (x[j] - x[i]));
                }
            }
        }

        return [.. slopes];
    }
}
