using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Nutrients;

/// <summary>Heat that yeast gives off.</summary>
public static class FermentationHeat
{
    /// <summary>Heat of a gram of hexose: 24 kcal of 180.156 g/mol. [kJ/g]</summary>
    public const double KilojoulesPerGram = 24 * 4.184 / 180.156;

    /// <summary>Heat that a liter of must takes up for a kelvin. [kJ/(L·K)]</summary>
    public const double HeatCapacity = 3.9;

    /// <summary>Rise if no heat left the vessel. [K]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> ΔT = 0.557·S/3.9, S the sugar fermented in g/L; about 1.4 K for 10 g/L. Vessels lose most of it: a demijohn
    /// warms by a few kelvin, a large tank by much of this.</para>
    /// <para><b>Valid.</b> 0 to 400 g/L. Beyond: still computed, marked <see cref="Validity.Extrapolated"/>. <b>Error.</b> 6 %: 23 to 25 kcal/mol, heat capacity 3.8 to 4.0.</para>
    /// <para><b>Source.</b> 24 kcal/mol: [Colombie2007] as others cite it, [Williams1982] abstract; its span of 1 kcal/mol and the heat capacity from memory. <b>Check.</b> NutrientTests.</para>
    /// </remarks>
    /// <param name="fermented">Sugar fermented.</param>
    /// <param name="heatCapacity">Of the must, 3 to 4.2 kJ/(L·K).</param>
    /// <exception cref="ArgumentOutOfRangeException">The heat capacity is outside 3 to 4.2.</exception>
    public static Computed<double> RiseKelvin(SugarConcentration fermented, double heatCapacity = HeatCapacity)
    {
        var rise = KilojoulesPerGram * fermented.GramsPerLiter / QuantityRange.Require(heatCapacity, 3, 4.2, "heat capacity", "kJ/(L·K)");
        return new(rise, Math.Abs(0.06 * rise), fermented.GramsPerLiter is >= 0 and <= 400 ? Validity.WithinSource : Validity.Extrapolated);
    }

    /// <summary>Heat given off in a day. [W, averaged]</summary>
    /// <remarks>0.557·S·V·1000/86400, S the sugar fermented in that day in g/L. Error and source as for <see cref="RiseKelvin"/>.</remarks>
    public static double Watts(SugarConcentration fermentedInADay, Volume volume) =>
        KilojoulesPerGram * fermentedInADay.GramsPerLiter * volume.Liters * 1000 / 86400;
}
