using System.Numerics;

namespace FermentWatch.Monitoring.Forecasting;

/// <summary>
/// Gravity over time: logistic onset, Michaelis-Menten use of sugar, inhibition by alcohol, activity lost in proportion to the alcohol;
/// in thermal time. The end is set by sugar (dry) or by the yeast's tolerance, whichever is higher, or by the loss of activity before either.
/// </summary>
/// <remarks>
/// <para><b>Equation.</b> g gravity, D dry end, E end at tolerance, o original gravity, x = g - D, b = (o - g)/(o - E);
/// dg/dτ = -v·a·x/(K + x)·(1 - bⁿ), a = e^(-L)/(1 + e^(-(τ - τ₀)/w)), dL/dτ = λ (o - g)/40. The end is the smooth maximum of D and E.
/// Midpoint steps in the logarithm of the distance to the end: it stays positive.</para>
/// <para>Alcohol from the fall d in points: d (125 + 0.065 o)/1000 % vol. That is 0.1 to 0.3 % vol below the mass balance of [Balling1865], within its
/// error of 0.5: yeast in a home ferment also makes glycerol and leaves 0.46 to 0.49 g of alcohol for a gram of sugar.</para>
/// </remarks>
internal sealed partial class FermentCurve
{
    private const double EndSmoothing = 1.5;
    private const double MaxFutureHours = 120 * 24;
    /// <summary>Steps over the past that are enough to find out from where to begin.</summary>
    public const int FewPastSteps = 60;

    private const int PastSteps = 200;
    private const int ColdTables = 10;
    private const double ColdTableStep = (ThermalTime.HighestColdLimit - ThermalTime.LowestColdLimit) / (ColdTables - 1);

    // Thermal steps and their middles for cold limits a few degrees apart; between them they are interpolated.
    private readonly double[][] _thermalStep = new double[ColdTables][];
    private readonly double[][] _thermalMiddle = new double[ColdTables][];
    private readonly KindPrior _kind;
    private readonly double _usedBefore;

    /// <summary>Lays the grid: even steps over the past, growing ones over 120 days to come.</summary>
    /// <param name="kind">Level of the dry end.</param>
    /// <param name="thermal">Measured temperature.</param>
    /// <param name="nowHours">Hours from the start of the curve to now, at least 0.</param>
    /// <param name="usedBefore">Points used before the curve's start (step feeding): their alcohol is in the liquid.</param>
    /// <param name="mostPastSteps">Most steps over the past.</param>
    public FermentCurve(KindPrior kind, ThermalTime thermal, double nowHours, double usedBefore, int mostPastSteps = PastSteps)
    {
        (_kind, _usedBefore) = (kind, usedBefore);
        PastCount = (int)Math.Clamp(Math.Ceiling(nowHours), 1, mostPastSteps);
        var hours = new List<double>(PastCount + 60);
        for (var i = 0; i <= PastCount; i++)
        {
            hours.Add(nowHours * i / PastCount);
        }

        for (double step = 1, ahead = 1; ahead < MaxFutureHours; step *= 1.12, ahead += step)
        {
            hours.Add(nowHours + ahead);
        }

        Hours = [.. hours];
        _one = new Vector<double>[Hours.Length];
        for (var k = 0; k < ColdTables; k++)
        {
            var (steps, middles, elapsed) = (new double[Hours.Length], new double[Hours.Length], 0.0);
            for (var i = 1; i < Hours.Length; i++)
            {
                var celsius = i <= PastCount ? thermal.CelsiusAt((Hours[i] + Hours[i - 1]) / 2) : thermal.CelsiusAhead;
                var speed = ThermalTime.SpeedAt(celsius, ThermalTime.LowestColdLimit + (k * ColdTableStep));
                steps[i] = speed * (Hours[i] - Hours[i - 1]);
                middles[i] = elapsed + (steps[i] / 2);
                elapsed += steps[i];
            }

            (_thermalStep[k], _thermalMiddle[k]) = (steps, middles);
        }
    }

    /// <summary>Hours from the start of the curve, rising.</summary>
    public double[] Hours { get; }

    /// <summary>Index of now in <see cref="Hours"/>.</summary>
    public int PastCount { get; }

    /// <summary>The kind's usual gravity without fermentable sugar, from the original gravity. [points]</summary>
    public double DryEnd(double originalPoints) => _kind.DryEnd(originalPoints);

    /// <summary>Fall of gravity that makes this much alcohol. [points]</summary>
    public static double FallTo(double percent, double originalPoints) => 1000 * percent / PercentPerThousand(originalPoints);

    /// <summary>Alcohol that a fall of gravity makes. [% vol]</summary>
    public static double AlcoholOf(double fallPoints, double originalPoints) => fallPoints * PercentPerThousand(originalPoints) / 1000;

    private static double PercentPerThousand(double originalPoints) => 125 + (0.065 * Math.Max(originalPoints, 0));
}
