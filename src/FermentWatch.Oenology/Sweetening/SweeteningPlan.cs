using FermentWatch.Oenology.Blending;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Sweetening;

/// <summary>Sweetener for a finished wine, and what the wine is afterwards.</summary>
/// <param name="Kilograms">Sweetener. [kg]</param>
/// <param name="Wine">The wine with it.</param>
/// <param name="Sugar">Sugar in it. [g/L]</param>
public readonly record struct SweeteningPlan(double Kilograms, Liquid Wine, SugarConcentration Sugar)
{
    /// <summary>Sweetener to a sugar content; null where the wine holds that much already, or the sweetener is too thin.</summary>
    /// <param name="wine">The wine today.</param>
    /// <param name="measured">Its measured sugar. A gravity does not tell it.</param>
    /// <param name="target">Wanted sugar.</param>
    /// <param name="sweetener">What sweetens.</param>
    /// <remarks>
    /// <para><b>Equation.</b> (sugar there + sugar share · x)/V(x) = target, V by <see cref="Liquid"/>; close to x = V(c₁ − c₀)/(1 − 0.62e-3·c₁) for sucrose.</para>
    /// <para><b>Valid.</b> 0 to 300 g/L. <b>Error.</b> 1 to 5 % of the sweetener by its kind, and that of the measured sugar.</para>
    /// <para><b>Source.</b> balance of mass; [Bubnik1995]. <b>Check.</b> SweeteningTests.</para>
    /// </remarks>
    public static SweeteningPlan? ToSugar(Liquid wine, SugarConcentration measured, SugarConcentration target, Sweetener sweetener)
    {
        ArgumentNullException.ThrowIfNull(sweetener);
        var there = measured.GramsPerLiter * wine.Volume.Liters;
        return Solve(wine, there, sweetener, kilograms => SugarAfter(wine, there, sweetener, kilograms) - target.GramsPerLiter);
    }

    /// <summary>Sweetener to a gravity; null where the wine is there already, or the sweetener is too thin.</summary>
    /// <remarks>As for <see cref="ToSugar"/>, with the gravity of the sum: it asks for no measured sugar, which is only carried along.</remarks>
    public static SweeteningPlan? ToGravity(Liquid wine, SugarConcentration measured, SpecificGravity target, Sweetener sweetener)
    {
        ArgumentNullException.ThrowIfNull(sweetener);
        return Solve(wine, measured.GramsPerLiter * wine.Volume.Liters, sweetener, kilograms => (wine + sweetener.Amount(kilograms)).Gravity.Value - target.Value);
    }

    private static SweeteningPlan? Solve(Liquid wine, double sugarThere, Sweetener sweetener, Func<double, double> excess)
    {
        var (low, high) = (0.0, 3 * wine.Kilograms);
        if (excess(low) > 1e-9 || excess(high) < 0)
        {
            return null;
        }

        for (var i = 0; i < 60; i++)
        {
            var middle = (low + high) / 2;
            (low, high) = excess(middle) < 0 ? (middle, high) : (low, middle);
        }

        var kilograms = (low + high) / 2;
        var sugar = SugarAfter(wine, sugarThere, sweetener, kilograms);
        return new SweeteningPlan(kilograms, wine + sweetener.Amount(kilograms), SugarConcentration.FromGramsPerLiter(Math.Clamp(sugar, 0, 1500)));
    }

    private static double SugarAfter(Liquid wine, double sugarThere, Sweetener sweetener, double kilograms) =>
        (sugarThere + (1000 * sweetener.SugarFraction * kilograms)) / (wine + sweetener.Amount(kilograms)).Volume.Liters;
}
