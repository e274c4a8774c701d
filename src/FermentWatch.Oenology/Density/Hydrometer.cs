using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Density;

/// <summary>A glass hydrometer that floats in must of another temperature than the one it was graduated for.</summary>
public static class Hydrometer
{
    /// <summary>Cubic expansion of the glass. [1/°C]</summary>
    private const double GlassExpansion = 25e-6;

    private const double LowestPlato = -12;
    private const double HighestPlato = 85;

    /// <summary>Specific gravity 20/20 °C of the must in which a hydrometer shows <paramref name="reading"/>.</summary>
    /// <remarks>
    /// <para><b>Equation.</b> The liquid's density is ρ(t) = R·ρ_w(T)·(1 − 25e-6·(t − T)), R the reading on a scale of SG T/T. The sucrose
    /// solution that has this density at t is found by bisection; its gravity at 20 °C is the result.</para>
    /// <para><b>Valid.</b> Must of 0 to 40 °C and up to SG 1.2. Below SG 1.000, and outside these, it is computed on and marked
    /// <see cref="Validity.Extrapolated"/>. Alcohol expands more than sugar water: in wine 10 °C away from 20 °C the correction is too
    /// small by up to 0.0005.</para>
    /// <para><b>Error.</b> 0.0005, half a division of a common hydrometer; the equation itself 0.0001.</para>
    /// <para><b>Source.</b> Expansion: [ISO1768]. Densities: <see cref="Water"/>, <see cref="SucroseSolution"/>. <b>Check.</b> HydrometerTests.</para>
    /// </remarks>
    /// <param name="reading">What the scale shows.</param>
    /// <param name="calibration">Temperature for which the scale was made: 20, 15.56 (60 °F) or 15 °C.</param>
    /// <param name="sample">Temperature of the must.</param>
    public static Computed<SpecificGravity> GravityOf(SpecificGravity reading, Temperature calibration, Temperature sample)
    {
        var wanted = reading.Value * Water.DensityAt(calibration).Value.KilogramsPerCubicMeter
            * (1 - (GlassExpansion * (sample.Celsius - calibration.Celsius)));
        var (low, high) = (LowestPlato, HighestPlato);
        for (var i = 0; i < 60; i++)
        {
            var middle = (low + high) / 2;
            var density = SucroseSolution.DensityOf(Plato.FromDegrees(middle), sample).Value.KilogramsPerCubicMeter;
            (low, high) = density < wanted ? (middle, high) : (low, middle);
        }

        var gravity = SucroseSolution.GravityOf(Plato.FromDegrees((low + high) / 2)).Value;
        var isWithin = sample.Celsius is >= 0 and <= 40 && gravity.Value is >= 1 and <= 1.2;
        return new(gravity, 0.0005, isWithin ? Validity.WithinSource : Validity.Extrapolated);
    }
}
