using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Density;

/// <summary>A glass hydrometer that floats in must or wine of another temperature than the one it was graduated for.</summary>
public static class Hydrometer
{
    /// <summary>Cubic expansion of the glass. [1/°C]</summary>
    private const double GlassExpansion = 25e-6;

    private const double LowestPlato = -12;
    private const double HighestPlato = 85;

    /// <summary>Specific gravity 20/20 °C of the must or wine in which a hydrometer shows <paramref name="reading"/>.</summary>
    /// <remarks>
    /// <para><b>Equation.</b> The liquid's density is ρ(t) = R·ρ_w(T)·(1 − 25e-6·(t − T)), R the reading on a scale of SG T/T. It is that of
    /// sugar water at t plus what the alcohol takes away there: ρ(t) = ρ_s(w, t) + ρ_e(p, t) − ρ_e(0, t), p the mass fraction of the alcohol
    /// in water. The sugar w that meets it is found by bisection; gravity at 20 °C is then Tabarié's sum, s_s(w) + s_e(p) − 1.</para>
    /// <para><b>Valid.</b> 0 to 40 °C; must from 1.000 to 1.2, wine from 0.98 up to 20 % vol. Outside: computed on and marked
    /// <see cref="Validity.Extrapolated"/>, and so is a gravity below 1.000 for which no alcohol is said: alcohol expands more than sugar
    /// water, and 10 °C away from 20 °C the correction is then too small by up to 0.0005.</para>
    /// <para><b>Error.</b> Must 0.0005, half a division of a common hydrometer; the equation itself 0.0001. Wine 0.0007: the sum of the two
    /// expansions is a model, 0.0004, for which no published table was found.</para>
    /// <para><b>Source.</b> Expansion: [ISO1768]. Densities: <see cref="Water"/>, <see cref="SucroseSolution"/>, <see cref="EthanolSolution"/>.
    /// <b>Check.</b> HydrometerTests.</para>
    /// </remarks>
    /// <param name="reading">What the scale shows.</param>
    /// <param name="calibration">Temperature for which the scale was made: 20, 15.56 (60 °F) or 15 °C.</param>
    /// <param name="sample">Temperature of the must or wine.</param>
    /// <param name="alcohol">Its alcohol; none for must.</param>
    public static Computed<SpecificGravity> GravityOf(SpecificGravity reading, Temperature calibration, Temperature sample, AlcoholByVolume alcohol = default)
    {
        var wanted = (reading.Value * Displaced(calibration, sample)) - AlcoholDifference(alcohol, sample);
        var (low, high) = (LowestPlato, HighestPlato);
        for (var i = 0; i < 60; i++)
        {
            var middle = (low + high) / 2;
            var density = SucroseSolution.DensityOf(Plato.FromDegrees(middle), sample).Value.KilogramsPerCubicMeter;
            (low, high) = density < wanted ? (middle, high) : (low, middle);
        }

        var sugar = SucroseSolution.GravityOf(Plato.FromDegrees((low + high) / 2)).Value;
        return Stated(sugar.Value + EthanolSolution.GravityOf(alcohol).Value.Value - 1, sample, alcohol);
    }

    /// <summary>What a hydrometer shows in must or wine of a gravity: the inverse of <see cref="GravityOf"/>.</summary>
    /// <remarks>
    /// <para><b>Equation.</b> As there, solved for R. <b>Valid.</b> As there, by <paramref name="gravity"/>. <b>Error.</b> As there.
    /// <b>Source.</b> As there. <b>Check.</b> HydrometerTests.</para>
    /// </remarks>
    /// <param name="gravity">Specific gravity 20/20 °C.</param>
    /// <param name="calibration">Temperature for which the scale was made.</param>
    /// <param name="sample">Temperature of the must or wine.</param>
    /// <param name="alcohol">Its alcohol; none for must.</param>
    public static Computed<SpecificGravity> ReadingOf(SpecificGravity gravity, Temperature calibration, Temperature sample, AlcoholByVolume alcohol = default)
    {
        var sugar = SucrosePolynomial.MassFractionOfGravity(gravity.Value - EthanolSolution.GravityOf(alcohol).Value.Value + 1);
        var density = SucroseSolution.DensityOf(Plato.FromDegrees(100 * sugar), sample).Value.KilogramsPerCubicMeter + AlcoholDifference(alcohol, sample);
        return Stated(density / Displaced(calibration, sample), sample, alcohol) with { Validity = Stated(gravity.Value, sample, alcohol).Validity };
    }

    /// <summary>Density that the reading 1.000 stands for at this temperature of glass and liquid. [kg/m³]</summary>
    private static double Displaced(Temperature calibration, Temperature sample) =>
        Water.DensityAt(calibration).Value.KilogramsPerCubicMeter * (1 - (GlassExpansion * (sample.Celsius - calibration.Celsius)));

    /// <summary>What alcohol adds to the density of water at a temperature; below 0. [kg/m³]</summary>
    private static double AlcoholDifference(AlcoholByVolume alcohol, Temperature sample) =>
        EthanolSolution.DensityOf(alcohol, sample).Value.KilogramsPerCubicMeter - EthanolSolution.DensityAtMassFraction(0, sample).Value.KilogramsPerCubicMeter;

    private static Computed<SpecificGravity> Stated(double ratio, Temperature sample, AlcoholByVolume alcohol)
    {
        var gravity = SpecificGravity.FromRatio(Math.Clamp(ratio, SpecificGravity.Lowest, SpecificGravity.Highest));
        var isWine = alcohol.Percent > 0;
        var isWithin = sample.Celsius is >= 0 and <= 40 && gravity.Value <= 1.2
            && (isWine ? gravity.Value >= 0.98 && alcohol.Percent <= 20 : gravity.Value >= 1);
        return new(gravity, isWine ? 0.0007 : 0.0005, isWithin ? Validity.WithinSource : Validity.Extrapolated);
    }
}
