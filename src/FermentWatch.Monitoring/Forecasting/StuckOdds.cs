namespace FermentWatch.Monitoring.Forecasting;

/// <summary>Odds that a ferment which has become slow stops before its end, from where it is, where it is foreseen to end and what it has behind it.</summary>
/// <remarks>
/// <para><b>Method.</b> A logistic regression. <b>Fitted on</b> 32,212 looks at 1,944 drawn ferments (both kinetic structures, seeds 91000 to 102107 and 107000 to 112107) whose gravity could not be shown to fall
/// by more than 1.5 points a day, each ferment with the square root of its looks; coefficients of standardized quantities drawn towards 0 by a unit normal. True was that the ferment,
/// left alone, ends with more than 8 g/L of sugar below its yeast's tolerance.</para>
/// <para><b>Error.</b> Fitted on one structure alone and looked at on the other, the mean logarithmic loss is 0.065 and 0.102; with the share of stuck looks told to all it would be 0.64.</para>
/// </remarks>
internal static class StuckOdds
{
    private const double Intercept = -6.606;
    private const double Least = 1e-4;

    /// <summary>The odds, 0 to 1.</summary>
    /// <param name="evidence">What is known.</param>
    public static double Of(StuckEvidence evidence)
    {
        var left = Math.Clamp(evidence.AboveHomePoints, -5, 60) / 10;
        var score = Intercept
            + (0.728 * left)
            + (3.267 * evidence.Asleep)
            + (0.673 * Logit(evidence.ForeseenStuck))
            + (0.183 * Logit(evidence.LevelStuck))
            + (3.718 * evidence.AlcoholOfTolerance)
            + (1.056 * Math.Log(Math.Clamp(evidence.RangePoints, 1, 100)))
            + (0.484 * Math.Log(Math.Clamp(evidence.MostPerDay, 0.1, 5)));
        if (evidence.WasFed)
        {
            // Sugar that came in moves the end, and the level with it: where it stands says less then.
            score += 2.582 + (0.214 * left) + (0.371 * Logit(evidence.ForeseenStuck)) - (0.247 * Logit(evidence.LevelStuck));
        }

        return 1 / (1 + Math.Exp(-score));
    }

    private static double Logit(double odds)
    {
        var kept = Math.Clamp(odds, Least, 1 - Least);
        return Math.Log(kept / (1 - kept));
    }
}

/// <summary>What <see cref="StuckOdds"/> stand on.</summary>
/// <param name="AboveHomePoints">How far it lies above the mean of where it would end if nothing stopped it. [points]</param>
/// <param name="Asleep">How far the cold of the days to come puts it to sleep, 0 to 1.</param>
/// <param name="ForeseenStuck">Odds that the ends which are foreseen are no proper ends, the five quantiles weighed by their share.</param>
/// <param name="LevelStuck">The same for the level where it is now.</param>
/// <param name="AlcoholOfTolerance">Its alcohol as a part of what the yeast bears.</param>
/// <param name="RangePoints">Width of the 9-in-10 range of the end. [points]</param>
/// <param name="MostPerDay">The greatest fall that its readings still allow. [points a day]</param>
/// <param name="WasFed">Whether sugar came in after the yeast and nobody measured by hand since.</param>
internal readonly record struct StuckEvidence(
    double AboveHomePoints, double Asleep, double ForeseenStuck, double LevelStuck, double AlcoholOfTolerance, double RangePoints, double MostPerDay, bool WasFed);
