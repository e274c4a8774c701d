namespace FermentWatch.Monitoring.Forecasting;

/// <summary>Tells a ferment at its end from one that stopped before it.</summary>
/// <remarks>
/// <para><b>Method.</b> Rest is shown by an equivalence test on the slope of the last days (see <see cref="SlopeTest"/>). The level at rest is
/// then weighed: near the dry end, or near where the yeast's tolerance puts the end, it has finished; well above both it is stuck.</para>
/// <para><b>Valid.</b> A ferment that rests with less than 8 g/L of sugar counts as finished. A false 'ready' is the worst error of all: it is
/// said only after days of rest with nothing left to fall.</para>
/// </remarks>
public static class StopJudge
{
    /// <summary>A fall of no more than this counts as rest. [points a day]</summary>
    public const double RestPerDay = 0.8;

    private const double ReadyPerDay = 0.4;
    private const double ReadyStuck = 0.05;
    private const double ReadyLeftPoints = 2.5;
    private const double LevelSpread = 2;
    private const double UsuallyStuck = 0.25;
    private const double ColdCelsius = 13;
    private const double HotCelsius = 32;
    private const int FewestPoints = 8;

    /// <summary>The judgment as of <see cref="ForecastInput.AsOf"/>. No input throws.</summary>
    /// <param name="input">What it stands on.</param>
    /// <param name="phase">What the ferment is doing.</param>
    /// <param name="forecast">Where it will end; null before any gravity is known.</param>
    public static StopAssessment Assess(ForecastInput input, PhaseAssessment phase, GravityForecast? forecast)
    {
        ArgumentNullException.ThrowIfNull(input);
        ArgumentNullException.ThrowIfNull(phase);
        var data = CurveData.From(input);
        if (forecast is null || data.Count < FewestPoints || phase.Phase is Phase.Lag or Phase.Unknown)
        {
            return StopAssessment.Unknown;
        }

        var (fall, days) = FallShown(data);
        if (!(fall <= RestPerDay))
        {
            return StopAssessment.Unknown;
        }

        var prior = new CurvePrior(input, data);
        var thermal = new ThermalTime(input.Temperature, data.Origin, data.NowHours);
        var curve = new FermentCurve(input.Prior.For(input.Kind), thermal, data.NowHours, data.UsedBefore);
        var level = CurveData.Median(Since(data, 24));
        var start = (data.Restarted ? CurveData.Median(data.Points.AsSpan(0, Math.Min(6, data.Count))) : prior.Center[CurveParameter.Start]) + data.UsedBefore;
        var belief = new EndBelief(prior, curve, Math.Max(start, level + 1), LevelSpread);
        var isCold = thermal.CelsiusAhead < ColdCelsius;
        var stuck = belief.Stuck(level, isCold ? 0.6 : UsuallyStuck);
        var left = level - forecast.FinalGravity.P05.Points;
        var isReady = fall <= ReadyPerDay && days >= 3 && stuck <= ReadyStuck && left <= ReadyLeftPoints;
        return new StopAssessment(1, stuck, 1 - stuck, stuck > 0.5 ? CauseOf(thermal, level, start, prior) : StopCause.None, isReady);
    }

    /// <summary>The smallest fall a day that the last days show it cannot exceed, and over how many days.</summary>
    private static (double PerDay, double Days) FallShown(CurveData data)
    {
        var least = (double.PositiveInfinity, 0.0);
        foreach (var days in (ReadOnlySpan<double>)[6, 5, 4, 3, 2])
        {
            var from = data.Hours[^1] - (days * 24);
            var first = Array.FindIndex(data.Hours, hours => hours >= from);
            if (data.Count - first < 10 || data.Hours[^1] - data.Hours[first] < days * 20)
            {
                continue;
            }

            if (SlopeTest.Through(data.Hours.AsSpan(first), data.Points.AsSpan(first)) is { } slope)
            {
                var shown = (Math.Abs(slope.Slope) + slope.HalfWidth(0.9)) * 24;
                least = shown < least.Item1 ? (shown, days) : least;
            }
        }

        return least;
    }

    private static ReadOnlySpan<double> Since(CurveData data, double hours)
    {
        var first = Array.FindIndex(data.Hours, one => one >= data.Hours[^1] - hours);
        return data.Points.AsSpan(Math.Min(first, Math.Max(0, data.Count - 5)));
    }

    private static StopCause CauseOf(ThermalTime thermal, double level, double start, CurvePrior prior)
    {
        var alcohol = (start - level) * (127.5 + (0.066 * Math.Max(start, 0))) / 1000;
        return thermal.CelsiusAhead < ColdCelsius ? StopCause.Cold
            : thermal.CelsiusAhead > HotCelsius ? StopCause.Hot
            : alcohol > prior.Center[CurveParameter.Tolerance] - 1.5 ? StopCause.Tolerance
            : alcohol < 0.7 * prior.Center[CurveParameter.Tolerance] ? StopCause.Nitrogen
            : StopCause.Unknown;
    }
}
