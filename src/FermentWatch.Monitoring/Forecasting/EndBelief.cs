namespace FermentWatch.Monitoring.Forecasting;

/// <summary>Where a ferment ends that nothing stops: at its dry end or where its yeast gives up, whichever is higher; as odds, before any curve.</summary>
internal sealed class EndBelief
{
    private const int Parts = 15;
    private const double Reach = 2.6;

    // The sugar that makes a ferment stuck (8 g/L), as gravity with the alcohol that it would have become. [points]
    private const double LeastLeftPoints = 3.8;

    // How far a sensor's level may be off. [points]
    private const double LevelSpread = 1.5;

    private readonly List<(double End, double Weight)> _ends = [];
    private readonly double _start;

    /// <param name="prior">The kind's prior with what the maker told.</param>
    /// <param name="curve">Level of the dry end.</param>
    /// <param name="start">Original gravity, with what was added since counted in. [points]</param>
    public EndBelief(CurvePrior prior, FermentCurve curve, double start)
    {
        _start = start;
        for (var i = 0; i < Parts; i++)
        {
            var (dryPlace, dryWeight) = Part(i);
            var dry = curve.DryEnd(start) + prior.Center[CurveParameter.DryOffset] + (dryPlace * prior.Spread[CurveParameter.DryOffset]);
            for (var k = 0; k < Parts; k++)
            {
                var (place, weight) = Part(k);
                var tolerance = Math.Max(2, prior.Center[CurveParameter.Tolerance] + (place * prior.Spread[CurveParameter.Tolerance]));
                var tolerant = start - FermentCurve.FallTo(tolerance, start);
                _ends.Add((Math.Min(Math.Max(dry, tolerant), start - 0.5), dryWeight * weight));
            }
        }
    }

    /// <summary>Odds that a ferment at rest at this level has stopped before its end.</summary>
    /// <param name="level">Gravity at rest. [points]</param>
    /// <param name="usually">The odds before the level is known.</param>
    /// <param name="levelSpread">How far the level may be off. [points]</param>
    public double Stuck(double level, double usually, double levelSpread = LevelSpread)
    {
        double normal = 0, stuck = 0;
        foreach (var (end, weight) in _ends)
        {
            var z = (level - end) / levelSpread;
            normal += weight * Math.Exp(-z * z / 2) / (levelSpread * Math.Sqrt(2 * Math.PI));
            var span = Math.Max(_start - end - LeastLeftPoints, 1);
            stuck += weight / span
                * Mixture.Normal((level - end - LeastLeftPoints) / levelSpread)
                * Mixture.Normal((_start - level) / levelSpread);
        }

        var both = (usually * stuck) + ((1 - usually) * normal);
        // Beyond all that is believed possible the level says: above, it can only be stuck; below, it can only be the end.
        return both > 1e-12 ? usually * stuck / both : level > _ends[^1].End ? 1 : 0;
    }

    /// <summary>Odds that sugar is left at this level, whatever made it rest: in the cold any ferment does.</summary>
    /// <param name="level">Gravity at rest. [points]</param>
    public double SugarLeft(double level) =>
        _ends.Sum(one => one.Weight * Mixture.Normal((level - one.End - LeastLeftPoints) / LevelSpread)) / _ends.Sum(one => one.Weight);

    /// <summary>Mean of the end. [points]</summary>
    public double Mean => _ends.Sum(one => one.End * one.Weight) / _ends.Sum(one => one.Weight);

    /// <summary>Standard deviation of the end, the sensor's level included. [points]</summary>
    public double Spread
    {
        get
        {
            var mean = Mean;
            var variance = _ends.Sum(one => one.Weight * (one.End - mean) * (one.End - mean)) / _ends.Sum(one => one.Weight);
            return Math.Sqrt(variance + (LevelSpread * LevelSpread));
        }
    }

    private static (double Place, double Weight) Part(int i)
    {
        var place = -Reach + (2 * Reach * i / (Parts - 1));
        return (place, Math.Exp(-place * place / 2) * (2 * Reach / (Parts - 1)) / Math.Sqrt(2 * Math.PI));
    }
}
