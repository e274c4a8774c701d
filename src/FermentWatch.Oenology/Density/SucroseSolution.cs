using FermentWatch.Oenology.Quantities;
using MassDensity = FermentWatch.Oenology.Quantities.Density;

namespace FermentWatch.Oenology.Density;

/// <summary>Sucrose dissolved in water: the yardstick behind °Plato, °Brix and extract in grams per liter.</summary>
/// <remarks>
/// Real musts hold glucose and fructose. At the same mass fraction those are a little lighter than sucrose (0.4 kg/m³ at
/// 20 %, 0.9 at 30 %, 1.8 at 40 %, from the handbook tables of [CRC102]): a must of 20 % hexose reads about 0.1 °P low,
/// one of 40 % about 0.4 °P low.
/// </remarks>
public static class SucroseSolution
{
    private const double WellCoveredMassFraction = 0.40;
    private const double CoveredMassFraction = 0.70;

    /// <summary>Density of a sucrose solution in vacuo. [kg/m³]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> ρ(w, t) = ρ_w(t) + Σ aᵢⱼ·wʲ·((t − 20)/100)ⁱ, w the mass fraction, t in °C on ITS-90, ρ_w the water
    /// equation that belongs to these coefficients (Bettin and Spieweck's recast of Kell's).</para>
    /// <para><b>Valid.</b> 0 to 70 °P, 0 to 100 °C. Outside: still computed, marked <see cref="Validity.Extrapolated"/>;
    /// the temperature is held to -20 to 120 °C.</para>
    /// <para><b>Error.</b> 0.1 kg/m³ up to 40 °P, 0.3 kg/m³ up to 70 °P (gap to the 20 °C table of [CRC102], which is rounded to
    /// 0.1 kg/m³), 0.5 kg/m³ beyond.</para>
    /// <para><b>Source.</b> [Bubnik1995] p. 164, in two independent transcriptions. They differ in a₀₄ (-3.9643, -3.9646), which
    /// moves the density by 0.000 15 kg/m³ at most. <b>Check.</b> SucroseSolutionTests.</para>
    /// </remarks>
    public static Computed<MassDensity> DensityOf(Plato extract, Temperature temperature)
    {
        var celsius = Math.Clamp(temperature.Celsius, -20, 120);
        var massFraction = extract.Degrees / 100;
        var within = massFraction is >= 0 and <= CoveredMassFraction && temperature.Celsius is >= 0 and <= 100;
        return new(
            MassDensity.FromKilogramsPerCubicMeter(SucrosePolynomial.KilogramsPerCubicMeter(massFraction, celsius)),
            Graded(massFraction, 0.1, 0.3, 0.5),
            within ? Validity.WithinSource : Validity.Extrapolated);
    }

    /// <summary>Specific gravity 20/20 °C of a sucrose solution, in vacuo. Dimensionless.</summary>
    /// <remarks>
    /// <para><b>Equation.</b> ρ(w, 20) / ρ(0, 20) by <see cref="DensityOf"/>.</para>
    /// <para><b>Valid.</b> 0 to 70 °P. Outside: still computed, marked <see cref="Validity.Extrapolated"/>: negative degrees are
    /// an agreed continuation, never sugar.</para>
    /// <para><b>Error.</b> 0.0001 up to 40 °P, 0.0003 up to 70 °P, 0.0005 beyond. The apparent gravity in air is higher by 0.00004 at
    /// 8 °P and 0.0002 at 40 °P.</para>
    /// <para><b>Source.</b> [Bubnik1995]; compared with [NBS440]. <b>Check.</b> SucroseSolutionTests.</para>
    /// </remarks>
    public static Computed<SpecificGravity> GravityOf(Plato extract)
    {
        var massFraction = extract.Degrees / 100;
        return new(
            SpecificGravity.FromRatio(SucrosePolynomial.GravityAt20(massFraction)),
            Graded(massFraction, 0.0001, 0.0003, 0.0005),
            Standing(massFraction));
    }

    /// <summary>°Plato (and °Brix) of the sucrose solution that has this specific gravity 20/20 °C. [°P]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> The inverse of <see cref="GravityOf"/>, solved by Newton's method to 1e-12 °P.</para>
    /// <para><b>Valid.</b> 1.000 to 1.350 (70 °P). Outside: still computed and held to -12 to 85 °P, marked
    /// <see cref="Validity.Extrapolated"/>.</para>
    /// <para><b>Error.</b> 0.03 °P up to 40 °P, 0.07 °P up to 70 °P, 0.1 °P beyond.</para>
    /// <para><b>Source.</b> [Bubnik1995]. <b>Check.</b> SucroseSolutionTests.</para>
    /// </remarks>
    public static Computed<Plato> PlatoOf(SpecificGravity gravity)
    {
        var massFraction = SucrosePolynomial.MassFractionOfGravity(gravity.Value);
        return new(Plato.FromDegrees(massFraction * 100), Graded(massFraction, 0.03, 0.07, 0.1), Standing(massFraction));
    }

    /// <summary>Grams of sucrose in a liter, at 20 °C, of the sucrose solution that has this specific gravity. [g/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> c = w·ρ(w, 20), w by <see cref="PlatoOf"/>.</para>
    /// <para><b>Valid.</b> 1.000 to 1.350. Outside: still computed and held to -100 g/L and above, marked <see cref="Validity.Extrapolated"/>.</para>
    /// <para><b>Error.</b> 0.3 g/L up to 40 °P, 1 g/L up to 70 °P, 2 g/L beyond, as sucrose. A must's extract is not all sugar: its
    /// acids and minerals count in full.</para>
    /// <para><b>Source.</b> [Bubnik1995]; compared with the extract table of [KNEK19]. <b>Check.</b> DryExtractTests.</para>
    /// </remarks>
    public static Computed<SugarConcentration> GramsPerLiterOf(SpecificGravity gravity)
    {
        var massFraction = SucrosePolynomial.MassFractionOfGravity(gravity.Value);
        return new(
            SugarConcentration.FromGramsPerLiter(Math.Max(SucrosePolynomial.GramsPerLiterAt20(massFraction), -100)),
            Graded(massFraction, 0.3, 1, 2),
            Standing(massFraction));
    }

    private static Validity Standing(double massFraction) =>
        massFraction is >= 0 and <= CoveredMassFraction ? Validity.WithinSource : Validity.Extrapolated;

    private static double Graded(double massFraction, double wellCovered, double covered, double beyond) => massFraction switch
    {
        >= 0 and <= WellCoveredMassFraction => wellCovered,
        >= 0 and <= CoveredMassFraction => covered,
        _ => beyond,
    };
}
