namespace FermentWatch.Monitoring.Forecasting;

/// <summary>Tells a ferment at its end from one that stopped before it.</summary>
/// <remarks>
/// <para><b>Method.</b> Rest is shown by an equivalence test on the slope of the last days, or of the last day when it is tight (see
/// <see cref="RestEvidence"/>). The level at which it will end is then weighed: near the dry end, or near where the yeast's tolerance puts the
/// end, it has finished; well above both it is stuck. In the cold any ferment rests, so only the level counts there.</para>
/// <para><b>Valid.</b> A ferment that rests with less than 8 g/L of sugar counts as finished. A false 'ready' is the worst error of all: it is
/// said only after three days and more of rest in the warm with nothing left to fall, and a ferment that took long is watched for longer.</para>
/// </remarks>
public static class StopJudge
{
    /// <summary>A fall of no more than this counts as rest. [points a day]</summary>
    public const double RestPerDay = 0.8;

    private const double SluggishPerDay = 1.2;
    private const double SlowTodayPerDay = 1;
    private const double MostTodayPerDay = 2;
    private const double ReadyPerDay = 0.6;
    private const double ReadyStuck = 0.1;
    private const double ReadyLeftPoints = 2.5;
    private const double HomePoints = 1.5;
    private const double LeastFallPoints = 6;
    private const double UsuallyStuck = 0.25;
    private const double UsuallyStuckInTheCold = 0.6;
    private const double ColdCelsius = 13;
    private const double HotCelsius = 32;

    // What is left falls off the slower, the longer the ferment took so far: about a point by its own pace.
    private const double ReadyPointsByAge = 8;

    // Asleep: near this temperature rest says nothing about the end.
    private const double AsleepCelsius = 11.3;
    private const double AsleepWidth = 0.8;
    private const double WarmCelsius = 12.5;
    private const double WarmDays = 3;
    private const double KnownHomePoints = 2;
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

        var rest = RestEvidence.Of(data);
        var isSlow = rest.MostPerDay <= SluggishPerDay || (rest.RecentPerDay <= SlowTodayPerDay && rest.RecentMostPerDay <= MostTodayPerDay);
        if (input.ByHand || !isSlow)
        {
            return StopAssessment.Unknown;
        }

        var prior = new CurvePrior(input, data);
        var thermal = new ThermalTime(input.Temperature, data.Origin, data.NowHours);
        var curve = new FermentCurve(input.Prior.For(input.Kind), thermal, data.NowHours, data.UsedBefore);
        var start = (data.Restarted ? CurveData.Median(data.Points.AsSpan(0, Math.Min(6, data.Count))) : prior.Center[CurveParameter.Start]) + data.UsedBefore;
        if (start - rest.Level < LeastFallPoints)
        {
            return StopAssessment.Unknown;
        }

        // Where it will end counts, not where it is: a slow ferment may still come home.
        var belief = new EndBelief(prior, curve, Math.Max(start, rest.Level + 1));
        var ends = forecast.FinalGravity;
        var stuck = (0.15 * Stuck(belief, thermal, ends.P05.Points)) + (0.2 * Stuck(belief, thermal, ends.P25.Points))
            + (0.3 * Stuck(belief, thermal, ends.P50.Points)) + (0.2 * Stuck(belief, thermal, ends.P75.Points))
            + (0.15 * Stuck(belief, thermal, ends.P95.Points));
        var isAtRest = rest.MostPerDay <= RestPerDay;
        var isHome = rest.Level - ends.P50.Points <= HomePoints;
        var finished = isAtRest && isHome ? 1 - stuck : 0;
        var age = Math.Max((input.AsOf - input.InoculatedAt).TotalDays, 1);
        var isReady = finished > 0.5
            && rest.LongMostPerDay <= Math.Min(ReadyPerDay, ReadyPointsByAge / age)
            && rest.Level - ends.P05.Points <= ReadyLeftPoints
            && belief.Stuck(rest.Level, UsuallyStuck) <= ReadyStuck
            && (rest.Level - belief.Mean <= KnownHomePoints || thermal.LowestCelsius(data.NowHours - (24 * WarmDays)) >= WarmCelsius);
        return new StopAssessment(isAtRest ? 1 : 0, stuck, finished, stuck > 0.5 ? CauseOf(thermal, rest.Level, start, prior) : StopCause.None, isReady);
    }

    /// <summary>Odds that a ferment which ends at this level has stopped before its end.</summary>
    private static double Stuck(EndBelief belief, ThermalTime thermal, double level)
    {
        var asleep = thermal.HasReadings ? 1 / (1 + Math.Exp((thermal.CelsiusAhead - AsleepCelsius) / AsleepWidth)) : 0;
        var usually = thermal.CelsiusAhead < ColdCelsius ? UsuallyStuckInTheCold : UsuallyStuck;
        return (asleep * belief.SugarLeft(level)) + ((1 - asleep) * belief.Stuck(level, usually));
    }

    private static StopCause CauseOf(ThermalTime thermal, double level, double start, CurvePrior prior)
    {
        var alcohol = FermentCurve.AlcoholOf(start - level, start);
        return thermal.CelsiusAhead < ColdCelsius ? StopCause.Cold
            : thermal.CelsiusAhead > HotCelsius ? StopCause.Hot
            : alcohol > prior.Center[CurveParameter.Tolerance] - 1.5 ? StopCause.Tolerance
            : alcohol < 0.7 * prior.Center[CurveParameter.Tolerance] ? StopCause.Nitrogen
            : StopCause.Unknown;
    }
}
