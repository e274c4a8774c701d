using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Restart;

/// <summary>What to do about a ferment that has stopped, with amounts and times for this batch.</summary>
public static class RestartPlan
{
    /// <summary>Coldest at which yeast works well. [°C]</summary>
    public const double ColdCelsius = 15;

    /// <summary>Hottest that yeast survives. [°C]</summary>
    public const double HotCelsius = 34;

    /// <summary>pH that a restart wants at least (common practice, no source).</summary>
    public const double LowestPh = 3.2;

    /// <summary>No inorganic nitrogen from this alcohol on (common practice, no source). [% vol]</summary>
    public const double InorganicNitrogenEndsPercent = 9;

    /// <summary>Alcohol that hardly any yeast passes; the usual tolerance is 14 to 18 (from memory). [% vol]</summary>
    public const double HighestTolerancePercent = 18;

    private const double SulfiteHoldsMilligramsPerLiter = 30;
    private const double NearTolerancePercent = 0.5;

    /// <summary>Causes by what was measured, and the steps.</summary>
    /// <remarks>
    /// <para><b>Rule.</b> Causes in this order as far as the facts show them: hardly any sugar by the balance of mass, sorbate, sulfite above
    /// 30 mg/L free, alcohol within 0.5 % vol of the tolerance, heat above 34 °C, cold below 15 °C, pH below 3.2; otherwise nutrition or
    /// yeast. With sorbate, or above 18 % vol, no restart is planned: it would fail.</para>
    /// <para><b>Starter.</b> Yeast 0.5 g/L of the batch; a first starter without alcohol, then doublings with the wine, three, or four from 13 %
    /// vol, until it is a quarter of the batch: after n doublings its alcohol is 1 − 2⁻ⁿ of the wine's.</para>
    /// <para><b>Error.</b> A plan of practice: the arithmetic is exact, the success is not. <b>Source.</b> Temperatures of yeast [Bisson1999];
    /// the rest common practice without a source, marked at each step. <b>Check.</b> RestartPlanTests.</para>
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">No volume.</exception>
    public static RestartAdvice For(StoppedFerment ferment)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(ferment.Volume.Liters, nameof(ferment));
        var balance = MassBalance.Of(ferment.Original, ferment.Present);
        var alcohol = balance.Alcohol.Value.Percent;
        var causes = Causes(ferment, balance);
        var hopeless = ferment.Sorbate || alcohol >= HighestTolerancePercent;
        var starter = hopeless ? null : StarterFor(ferment.Volume, alcohol);
        return new(causes, starter, [.. RestartSteps.Of(ferment, alcohol, balance, causes[0], starter)]);
    }

    private static List<StopCause> Causes(StoppedFerment ferment, MassBalanceResult balance)
    {
        var causes = new List<StopCause>();
        var alcohol = balance.Alcohol.Value.Percent;
        Add(balance.SugarLeft.Value.GramsPerLiter <= balance.SugarLeft.Tolerance, StopCause.PerhapsFinished);
        Add(ferment.Sorbate, StopCause.Sorbate);
        Add(ferment.FreeSulfite is { } free && free.MilligramsPerLiter > SulfiteHoldsMilligramsPerLiter, StopCause.Sulfite);
        Add(alcohol >= (ferment.Tolerance?.Percent ?? HighestTolerancePercent) - NearTolerancePercent, StopCause.AlcoholTolerance);
        Add(ferment.Temperature.Celsius > HotCelsius, StopCause.Heat);
        Add(ferment.Temperature.Celsius < ColdCelsius, StopCause.Cold);
        Add(ferment.Ph is { } ph && ph.Value < LowestPh, StopCause.LowPh);
        Add(causes.Count == 0, StopCause.NutritionOrYeast);
        return causes;

        void Add(bool shown, StopCause cause)
        {
            if (shown)
            {
                causes.Add(cause);
            }
        }
    }

    private static DoublingStarter StarterFor(Volume volume, double alcohol)
    {
        var doublings = alcohol >= 13 ? 4 : 3;
        var first = volume.Liters / 4 / Math.Pow(2, doublings);
        var yeast = 0.5 * volume.Liters;
        return new(
            yeast,
            10 * yeast,
            first,
            50 * first,
            [.. Enumerable.Range(0, doublings).Select(step => first * Math.Pow(2, step))],
            [.. Enumerable.Range(1, doublings).Select(step => 1 - Math.Pow(2, -step))]);
    }
}
