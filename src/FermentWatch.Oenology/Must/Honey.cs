using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Must;

/// <summary>Honey by its water.</summary>
public static class Honey
{
    /// <summary>Water of an average honey. [% of mass]</summary>
    /// <remarks>17.2: mean of honeys of the United States [WhiteDoner1980]. Trade allows 20, heather 23 [EU2001110].</remarks>
    public const double UsualWaterPercent = 17.2;

    /// <summary>Lowest water of the refractometer table. [% of mass]</summary>
    public const double LowestWaterPercent = 13;

    /// <summary>Highest water taken here. [% of mass]</summary>
    public const double HighestWaterPercent = 25;

    private const double IndexPerCelsius = 0.00023;

    /// <summary>Water of honey by its refractive index, held to 5 to 40. [% of mass]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> W = (−0.2681 − log₁₀(n − 1))/0.002243, n at 20 °C; 0.00023 are added for each °C above 20.</para>
    /// <para><b>Valid.</b> 13 to 25 % water, 15 to 35 °C. Outside: still computed, marked <see cref="Validity.Extrapolated"/>.</para>
    /// <para><b>Error.</b> 0.1 % of mass (gap to 36 points of the table 0.022).</para>
    /// <para><b>Source.</b> Table: [AOAC96938]; the equation (Wedmore) from memory, matched to it. <b>Check.</b> MustPlanTests.</para>
    /// </remarks>
    /// <param name="refractiveIndex">1.4 to 1.6.</param>
    /// <param name="temperature">Temperature of the honey on the prism.</param>
    /// <exception cref="ArgumentOutOfRangeException">The index is outside 1.4 to 1.6.</exception>
    public static Computed<double> WaterPercent(double refractiveIndex, Temperature temperature)
    {
        QuantityRange.Require(refractiveIndex, 1.4, 1.6, "refractive index", "(20 °C)");
        var at20 = refractiveIndex + (IndexPerCelsius * (temperature.Celsius - 20));
        var water = Math.Clamp((-0.2681 - Math.Log10(at20 - 1)) / 0.002243, 5, 40);
        var isWithin = water is >= LowestWaterPercent and <= HighestWaterPercent && temperature.Celsius is >= 15 and <= 35;
        return new(water, 0.1, isWithin ? Validity.WithinSource : Validity.Extrapolated);
    }

    /// <summary>Specific gravity 20/20 °C of honey. Dimensionless.</summary>
    /// <remarks>
    /// <para><b>Equation.</b> 1.423 − 0.0065·(W − 17), W the water in % of mass. Sugar syrup of the same water is heavier (1.43).</para>
    /// <para><b>Valid.</b> 13 to 25 % water. Outside: still computed, marked <see cref="Validity.Extrapolated"/>.</para>
    /// <para><b>Error.</b> 0.002. <b>Source.</b> 1.423 at 17 %: a trade specification; the slope from memory (tables after White).
    /// <b>Check.</b> MustPlanTests.</para>
    /// </remarks>
    /// <param name="waterPercent">5 to 40 % of mass.</param>
    /// <exception cref="ArgumentOutOfRangeException">The water is outside 5 to 40 %.</exception>
    public static Computed<SpecificGravity> GravityOf(double waterPercent)
    {
        QuantityRange.Require(waterPercent, 5, 40, "water of honey", "%");
        return new(
            SpecificGravity.FromRatio(1.423 - (0.0065 * (waterPercent - 17))),
            0.002,
            waterPercent is >= LowestWaterPercent and <= HighestWaterPercent ? Validity.WithinSource : Validity.Extrapolated);
    }
}
