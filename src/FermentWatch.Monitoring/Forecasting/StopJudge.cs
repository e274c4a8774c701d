using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Forecasting;

/// <summary>Tells a ferment at its end from one that stopped before it.</summary>
/// <remarks>
/// <para><b>Method.</b> Rest is shown by an equivalence test on the slope of the last days, or of the last day when it is tight (see
/// <see cref="RestEvidence"/>). One that is slow or at rest is stuck by odds that were fitted on drawn ferments (see <see cref="StuckOdds"/>): how far it lies above its dry
/// end and above where the yeast's tolerance puts the end, where it is foreseen to end, how cold it is, whether sugar came in.</para>
/// <para><b>Valid.</b> A ferment that rests with less than 8 g/L of sugar counts as finished. A false 'ready' is the worst error of all: it is
/// said only after three days and more of rest in the warm with nothing left to fall, and a ferment that took long is watched for longer.</para>
/// </remarks>
public static class StopJudge
{
    /// <summary>A fall of no more than this counts as rest. [points a day]</summary>
    public const double RestPerDay = 0.8;

    /// <summary>From these odds on a ferment is treated as stuck: one that nobody notices costs more than a look at one that goes on.</summary>
    public const double StuckFrom = 0.25;

    private const double SluggishPerDay = 1.2;
    private const double SluggishTodayPerDay = 1;

    // What falls by more is slow and not stuck, wherever it will end.
    private const double FallingPerDay = 1;

    // Nor is one with this still to fall, unless nearly its rest is shown.
    private const double StillToFallPoints = 4;
    private const double NearlyRestPerDay = 1.05;

    private const double ReadyPerDay = 0.6;
    private const double ReadyStuck = 0.1;
    private const double MostStuckWhenReady = 0.15;
    private const double ReadyLeftPoints = 5;
    private const double ReadyLikelyLeftPoints = 2;
    private const double HomePoints = 1.5;
    private const double LeastFallPoints = 6;

    // A ferment that the cold stopped may have fallen by less: more than this is no lag.
    private const double LeastFallInTheColdPoints = 2.5;

    private const double KeptByColdHours = 72;
    private const double KeptByColdOdds = 0.9;

    // Once shown, rest holds for this long against limits that the noise of a day would cross: these are so much wider then.
    private const double HeldHours = 72;
    private const double HeldLooksHours = 12;
    private const double HeldSlope = 1.5;
    private const double HeldRest = 1.25;
    private const double HeldPoints = 0.5;
    private const double HeldStuck = 0.05;

    // What StuckOdds were fitted with.
    private const double UsuallyStuck = 0.45;
    private const double UsuallyStuckAtRest = 0.35;
    private const double PointsPerPercent = 7.5;
    private const double LeastTolerance = 5;

    private const double UsuallyStuckWhenReady = 0.25;
    private const double ColdCelsius = 13;
    private const double HotCelsius = 32;

    // What is left falls off the slower, the longer the ferment took so far: about a point by its own pace.
    private const double ReadyPointsByAge = 7;

    // Asleep: near this temperature rest says nothing about the end.
    private const double AsleepCelsius = 11.3;
    private const double AsleepWidth = 0.8;
    private const double WarmCelsius = 12.5;
    private const double WarmDays = 3;

    // In the cold only what lies at its dry end or below is known to have come home.
    private const double KnownHomePoints = 0;

    // A level that nobody measured by hand since sugar came in must lie so far below the usual end: stirring and a wet float move a sensor by
    // points, and sugar that came in moves the end.
    private const double FedBelowHomePoints = 1;

    // How far a sensor's level may be off, where the odds of being stuck hang on it.
    private const double LevelSpread = 2;
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
        if (forecast is null || data.Count < FewestPoints || phase.Phase is Phase.Unknown)
        {
            return StopAssessment.Unknown;
        }

        var rest = RestEvidence.Of(data);
        var thermal = new ThermalTime(input.Temperature, data.Origin, data.NowHours);
        var isAsleep = Asleep(thermal) > 0.5;

        // What lies still in the cold for days after the yeast went in will not begin there: that is no lag.
        var isKeptByCold = phase.Phase is Phase.Lag && data.NowHours >= KeptByColdHours && Asleep(thermal) > KeptByColdOdds && rest.MostPerDay <= RestPerDay;
        if (phase.Phase is Phase.Lag && !isKeptByCold)
        {
            return StopAssessment.Unknown;
        }

        var isSlow = rest.MostPerDay <= SluggishPerDay || rest.RecentMostPerDay <= SluggishTodayPerDay;
        if (input.ByHand || !isSlow)
        {
            return StopAssessment.Unknown;
        }

        var prior = new CurvePrior(input, data);
        var curve = new FermentCurve(input.Prior.For(input.Kind), thermal, data.NowHours, data.UsedBefore);
        var start = StartOf(input, data, prior, forecast) + data.UsedBefore;
        var highest = isAsleep && data.Count > 0 ? Math.Max(start, FirstLevel(data) + data.UsedBefore) : start;
        if (!isKeptByCold && highest - rest.Level < (isAsleep ? LeastFallInTheColdPoints : LeastFallPoints))
        {
            return StopAssessment.Unknown;
        }

        // Where it will end counts, not where it is: a slow ferment may still come home.
        var belief = new EndBelief(prior, curve, Math.Max(start, rest.Level + 1));
        var ends = forecast.FinalGravity;
        var stuck = isKeptByCold
            ? Foreseen(ends, belief.SugarLeft)
            : StuckOdds.Of(new StuckEvidence(
                rest.Level - belief.Mean,
                Asleep(thermal),
                Foreseen(ends, level => belief.Stuck(level, UsuallyStuck, LevelSpread)),
                belief.Stuck(rest.Level, UsuallyStuckAtRest, LevelSpread),
                (start - rest.Level) / PointsPerPercent / Math.Max(prior.Center[CurveParameter.Tolerance], LeastTolerance),
                ends.P95.Points - ends.P05.Points,
                rest.MostPerDay,
                IsLevelDoubtful(input, data)));
        var left = rest.Level - ends.P50.Points;
        if (!isAsleep && (rest.FallPerDay > FallingPerDay || (rest.MostPerDay > NearlyRestPerDay && left > StillToFallPoints)))
        {
            stuck = Math.Min(stuck, StuckFrom - 0.01);
        }

        var isAtRest = rest.MostPerDay <= RestPerDay;
        var isHeld = WasShown(input, data);
        var finished = isAtRest && left <= HomePoints ? 1 - stuck : 0;
        var stillFinished = rest.MostPerDay <= (isHeld ? HeldRest : 1) * RestPerDay && left <= HomePoints + (isHeld ? HeldPoints : 0) ? 1 - stuck : 0;
        var isReady = stillFinished > 0.5
            && stuck < MostStuckWhenReady
            && rest.LongMostPerDay <= (isHeld ? HeldSlope : 1) * ReadySlope(input, data.NowHours, data)
            && rest.Level - ends.P05.Points <= ReadyLeftPoints + (isHeld ? HeldPoints : 0)
            && rest.Level - ends.P25.Points <= ReadyLikelyLeftPoints
            && belief.Stuck(rest.Level, UsuallyStuckWhenReady) <= ReadyStuck + (isHeld ? HeldStuck : 0)
            && (belief.Mean - rest.Level >= FedBelowHomePoints || !IsLevelDoubtful(input, data))
            && (rest.Level - curve.DryEnd(start) - prior.Center[CurveParameter.DryOffset] <= KnownHomePoints || thermal.LowestCelsius(data.NowHours - (24 * WarmDays)) >= WarmCelsius);
        return new StopAssessment(
            isAtRest ? 1 : 0,
            stuck,
            isReady ? stillFinished : finished,
            stuck >= StuckFrom ? CauseOf(thermal, rest.Level, start, prior) : StopCause.None,
            isReady);
    }

    /// <summary>What was told, or where the curve began; a sensor that came late saw less.</summary>
    private static double StartOf(ForecastInput input, CurveData data, CurvePrior prior, GravityForecast forecast)
    {
        if (data.Restarted)
        {
            return FirstLevel(data);
        }

        return input.OriginalGravity is not null || forecast.Fit.Count == 0
            ? prior.Center[CurveParameter.Start]
            : Math.Max(FirstLevel(data), forecast.Fit[0].Gravity.Points);
    }

    /// <summary>Whether sugar came in, by which the level that a sensor shows may be off, and nobody measured since.</summary>
    private static bool IsLevelDoubtful(ForecastInput input, CurveData data) =>
        data.SugarAt is { } sugar && !(input.MeasuredByHandAt is { } measured && measured > sugar && measured <= input.AsOf);

    private static double FirstLevel(CurveData data) => CurveData.Median(data.Points.AsSpan(0, Math.Min(6, data.Count)));

    /// <summary>The slope that rest must be shown to lie below: less, the longer the ferment took. [points a day]</summary>
    private static double ReadySlope(ForecastInput input, double hours, CurveData data)
    {
        var days = ((data.Origin - input.InoculatedAt).TotalHours + hours) / 24;
        return Math.Min(ReadyPerDay, ReadyPointsByAge / Math.Max(days, 1));
    }

    /// <summary>Whether one of the last looks showed rest by the strict limit: the noise of one more day is no reason to take that back.</summary>
    private static bool WasShown(ForecastInput input, CurveData data)
    {
        for (var hours = data.NowHours - HeldLooksHours; hours >= Math.Max(data.NowHours - HeldHours, 1); hours -= HeldLooksHours)
        {
            if (RestEvidence.Of(data.UpTo(hours)).LongMostPerDay <= ReadySlope(input, hours, data))
            {
                return true;
            }
        }

        return false;
    }

    private static double Asleep(ThermalTime thermal) =>
        thermal.HasReadings ? 1 / (1 + Math.Exp((thermal.CelsiusAhead - AsleepCelsius) / AsleepWidth)) : 0;

    /// <summary>Odds of something at the foreseen end: the five quantiles, each with its share.</summary>
    private static double Foreseen(Quantiles<SpecificGravity> ends, Func<double, double> odds) =>
        (0.15 * odds(ends.P05.Points)) + (0.2 * odds(ends.P25.Points)) + (0.3 * odds(ends.P50.Points))
        + (0.2 * odds(ends.P75.Points)) + (0.15 * odds(ends.P95.Points));

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
