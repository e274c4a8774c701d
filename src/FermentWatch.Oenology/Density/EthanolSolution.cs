using FermentWatch.Oenology.Quantities;
using MassDensity = FermentWatch.Oenology.Quantities.Density;

namespace FermentWatch.Oenology.Density;

/// <summary>Ethanol mixed with water, and nothing else.</summary>
public static class EthanolSolution
{
    private const double LowestCelsius = -20;
    private const double HighestCelsius = 40;

    /// <summary>Density of an ethanol-water mixture of this strength. [kg/m³]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> ρ(p, t) = A₁ + Σ Aₖ·pᵏ⁻¹ + Σ Bₖ·(t − 20)ᵏ + Σ Cᵢₖ·pᵏ·(t − 20)ⁱ, 54 coefficients, p the mass fraction
    /// that belongs to the strength (<see cref="MassFractionOf"/>), t in °C.</para>
    /// <para><b>Valid.</b> 0 to 100 % vol, -20 to 40 °C. Outside: still computed at the nearer limit, marked
    /// <see cref="Validity.Extrapolated"/>.</para>
    /// <para><b>Error.</b> 0.05 kg/m³ up to 30 % of mass (gap to [USP29]), 0.25 kg/m³ above (gap to [CRC102], rounded to 0.1).</para>
    /// <para><b>Source.</b> [OIMLR22] and [EEC76766], in several independent transcriptions; C₁₁ and C₂₃ circulate with swapped
    /// digits. Its water at 20 °C is 998.2012 kg/m³, 0.0055 below [Tanaka2001]: form gravity ratios inside one formula.
    /// <b>Check.</b> EthanolSolutionTests.</para>
    /// </remarks>
    public static Computed<MassDensity> DensityOf(AlcoholByVolume alcohol, Temperature temperature) =>
        DensityAtMassFraction(MassFractionOf(alcohol), temperature);

    /// <summary>Density of an ethanol-water mixture by the mass fraction of ethanol. [kg/m³]</summary>
    /// <param name="massFraction">Grams of ethanol in a gram of mixture, 0 to 1.</param>
    /// <param name="temperature">Temperature of the mixture.</param>
    /// <remarks>Equation, range, error and source as for <see cref="DensityOf"/>.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">The mass fraction is outside 0 to 1.</exception>
    public static Computed<MassDensity> DensityAtMassFraction(double massFraction, Temperature temperature)
    {
        QuantityRange.Require(massFraction, 0, 1, "mass fraction of ethanol", "g/g");
        var celsius = Math.Clamp(temperature.Celsius, LowestCelsius, HighestCelsius);
        return new(
            MassDensity.FromKilogramsPerCubicMeter(EthanolPolynomial.KilogramsPerCubicMeter(massFraction, celsius)),
            massFraction <= 0.3 ? 0.05 : 0.25,
            temperature.Celsius is >= LowestCelsius and <= HighestCelsius ? Validity.WithinSource : Validity.Extrapolated);
    }

    /// <summary>Grams of ethanol in a gram of an ethanol-water mixture of this strength. Dimensionless.</summary>
    /// <remarks>
    /// <para><b>Equation.</b> Solves q = p·ρ(p, 20)/ρ(1, 20) for p by Newton's method to 1e-15.</para>
    /// <para><b>Valid.</b> 0 to 100 % vol. <b>Error.</b> 0.000 05. <b>Source.</b> [OIMLR22]. <b>Check.</b> EthanolSolutionTests.</para>
    /// </remarks>
    public static double MassFractionOf(AlcoholByVolume alcohol) => EthanolPolynomial.MassFraction(alcohol.Percent / 100);

    /// <summary>Alcoholic strength of an ethanol-water mixture by the mass fraction of ethanol. [% vol]</summary>
    /// <param name="massFraction">Grams of ethanol in a gram of mixture, 0 to 1.</param>
    /// <remarks>The inverse of <see cref="MassFractionOf"/>, q = p·ρ(p, 20)/ρ(1, 20).</remarks>
    /// <exception cref="ArgumentOutOfRangeException">The mass fraction is outside 0 to 1.</exception>
    public static AlcoholByVolume AlcoholOf(double massFraction)
    {
        QuantityRange.Require(massFraction, 0, 1, "mass fraction of ethanol", "g/g");
        return AlcoholByVolume.FromPercent(Math.Min(100 * EthanolPolynomial.VolumeFraction(massFraction), 100));
    }

    /// <summary>Specific gravity 20/20 °C of an ethanol-water mixture of this strength. Dimensionless.</summary>
    /// <remarks>ρ(p, 20)/ρ(0, 20) inside the formula of <see cref="DensityOf"/>; error 0.000 05 up to 30 % of mass.</remarks>
    public static Computed<SpecificGravity> GravityOf(AlcoholByVolume alcohol)
    {
        var massFraction = MassFractionOf(alcohol);
        return new(
            SpecificGravity.FromRatio(EthanolPolynomial.KilogramsPerCubicMeterAt20(massFraction) / EthanolPolynomial.WaterAt20),
            massFraction <= 0.3 ? 0.00005 : 0.00025,
            Validity.WithinSource);
    }
}
