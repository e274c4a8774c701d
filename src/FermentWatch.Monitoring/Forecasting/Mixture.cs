namespace FermentWatch.Monitoring.Forecasting;

/// <summary>A weighted mixture of normal (or, beyond a moment, log-normal) distributions: quantiles by bisection.</summary>
internal sealed class Mixture
{
    private readonly List<(double Weight, double Center, double Spread)> _parts = [];
    private readonly double _logFrom;
    private double _total;

    /// <param name="logFrom">Parts with a center beyond this are log-normal in the distance from it; infinity for none.</param>
    public Mixture(double logFrom = double.PositiveInfinity) => _logFrom = logFrom;

    /// <summary>Adds a part. Spread is in the unit of the center, turned into one of the logarithm where that applies.</summary>
    public void Add(double weight, double center, double spread)
    {
        _parts.Add((weight, center, Math.Max(spread, 1e-6)));
        _total += weight;
    }

    /// <summary>Adds a part that is to have this share of the whole, below 1.</summary>
    public void AddShare(double share, double center, double spread) => Add(_total * share / (1 - share), center, spread);

    /// <summary>Probability of at most <paramref name="value"/>.</summary>
    public double Cumulative(double value)
    {
        var sum = 0.0;
        foreach (var (weight, center, spread) in _parts)
        {
            sum += weight * Normal(Standard(value, center, spread));
        }

        return sum / _total;
    }

    /// <summary>The value below which a share lies, between two limits.</summary>
    public double Quantile(double probability, double low, double high)
    {
        for (var i = 0; i < 60; i++)
        {
            var middle = (low + high) / 2;
            if (Cumulative(middle) < probability)
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

    /// <summary>Cumulative normal distribution, to 1e-7: Abramowitz and Stegun 26.2.17.</summary>
    public static double Normal(double z)
    {
        var t = 1 / (1 + (0.2316419 * Math.Abs(z)));
        var tail = Math.Exp(-z * z / 2) * 0.3989422804014327 * t
            * (0.319381530 + (t * (-0.356563782 + (t * (1.781477937 + (t * (-1.821255978 + (t * 1.330274429))))))));
        return z >= 0 ? 1 - tail : tail;
    }

    private double Standard(double value, double center, double spread)
    {
        if (center <= _logFrom)
        {
            return (value - center) / spread;
        }

        return value <= _logFrom ? -40 : Math.Log((value - _logFrom) / (center - _logFrom)) / LogSpread(center, spread);
    }

    private double LogSpread(double center, double spread) => Math.Clamp(spread / (center - _logFrom), 0.02, 1.5);
}
