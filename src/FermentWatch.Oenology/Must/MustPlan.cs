using FermentWatch.Oenology.Blending;
using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sweetening;

namespace FermentWatch.Oenology.Must;

/// <summary>How much sweetener and water make a must of a wanted volume and gravity, beside juice that is there already.</summary>
/// <param name="SweetenerKilograms">Sweetener. [kg]</param>
/// <param name="WaterKilograms">Water; a liter at 20 °C weighs 0.998 kg. [kg]</param>
public readonly record struct MustPlan(double SweetenerKilograms, double WaterKilograms)
{
    /// <summary>Plans a must. Null where none can be made: the juice alone is too much, or too rich, or the sweetener too thin.</summary>
    /// <param name="target">Wanted gravity.</param>
    /// <param name="volume">Wanted volume.</param>
    /// <param name="sweetener">What brings the sugar.</param>
    /// <param name="there">Juice or must that is there already; nothing by default.</param>
    /// <remarks>
    /// <para><b>Equation.</b> M = s·0.9982·V is the mass of the must, w its °Plato/100. Sweetener (w·M − extract there)/x, x its extract; water
    /// is the rest of the mass.</para>
    /// <para><b>Valid.</b> 1.000 to 1.175. <b>Error.</b> 1 to 5 % of the sweetener by its kind: mix, measure, correct.</para>
    /// <para><b>Source.</b> Balance of mass; [Bubnik1995]. <b>Check.</b> MustPlanTests.</para>
    /// </remarks>
    public static MustPlan? For(SpecificGravity target, Volume volume, Sweetener sweetener, Liquid there = default)
    {
        ArgumentNullException.ThrowIfNull(sweetener);
        var mass = target.Value * SucrosePolynomial.WaterAt20 / 1000 * volume.Liters;
        var extract = mass * SucrosePolynomial.MassFractionOfGravity(target.Value);
        var sweet = (extract - there.ExtractKilograms) / sweetener.ExtractFraction;
        var water = mass - there.Kilograms - sweet;
        return sweet < -1e-9 || water < -1e-9 ? null : new MustPlan(Math.Max(0, sweet), Math.Max(0, water));
    }

    /// <summary>Sweetener that raises a must to a gravity; null where it can't: the must is there already, or the sweetener is thinner. [kg]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> x = m·(w₂ − w₁)/(e − w₂), by mass; e the sweetener's extract.</para>
    /// <para><b>Valid.</b> 1.000 to 1.175. <b>Error.</b> As for <see cref="For"/>. <b>Source.</b> balance of mass. <b>Check.</b> MustPlanTests.</para>
    /// </remarks>
    public static double? ToRaise(Liquid must, SpecificGravity target, Sweetener sweetener)
    {
        ArgumentNullException.ThrowIfNull(sweetener);
        var wanted = SucrosePolynomial.MassFractionOfGravity(target.Value);
        var need = (must.Kilograms * wanted) - must.ExtractKilograms;
        return need < 0 || sweetener.ExtractFraction <= wanted ? null : need / (sweetener.ExtractFraction - wanted);
    }

    /// <summary>Water that lowers a must to a gravity; null where water can't. [kg]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> m·(w₁ − w₂)/w₂, by mass. <b>Valid.</b> 1.000 to 1.175. <b>Error.</b> 1 %. <b>Source.</b> balance of mass.
    /// <b>Check.</b> MustPlanTests.</para>
    /// </remarks>
    public static double? ToLower(Liquid must, SpecificGravity target)
    {
        var wanted = SucrosePolynomial.MassFractionOfGravity(target.Value);
        return wanted <= 0 || must.ExtractKilograms < must.Kilograms * wanted ? null : (must.ExtractKilograms / wanted) - must.Kilograms;
    }
}
