using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Alcohol;

/// <summary>A refractometer in must that has begun to ferment: alcohol bends light too, so its Brix is no longer sugar.</summary>
public static class Refractometer
{
    /// <summary>Stated error of alcohol found with hobby instruments. [% vol]</summary>
    public const double AlcoholTolerancePercent = 0.8;

    private const double GravityTolerance = 0.003;
    private const double HighestGramsPerLiter = 700;

    /// <summary>What a Brix refractometer shows for a liquid of this alcohol and extract. [°Bx]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> Lorentz-Lorenz by mass over water, sucrose and ethanol, at the density of Tabarié's rule. Alcohol adds about
    /// 0.39 °Bx for each % vol.</para>
    /// <para><b>Valid.</b> 0 to 20 % vol, 0 to 400 g/L. Beyond: still computed.</para>
    /// <para><b>Error.</b> 0.2 °Bx: the division of the instrument; the model meets an independent measured relation
    /// (<see cref="FortifiedAlcohol"/>) within 0.5 % vol.</para>
    /// <para><b>Source.</b> [CRC102], [OIMLR22], [Bubnik1995]. <b>Check.</b> RefractometerTests.</para>
    /// </remarks>
    public static double BrixShown(AlcoholByVolume alcohol, SugarConcentration extract)
    {
        var gravity = EthanolSolution.GravityOf(alcohol).Value.Value + SucrosePolynomial.GravityOfGramsPerLiter(extract.GramsPerLiter) - 1;
        return BrixShown(alcohol.Percent / 100, extract.GramsPerLiter, gravity);
    }

    /// <summary>Gravity and alcohol now, from the original gravity and what a refractometer shows now.</summary>
    /// <remarks>
    /// <para><b>Equation.</b> The present gravity at which <see cref="MassBalance"/> gives the alcohol and extract that show this reading;
    /// by bisection.</para>
    /// <para><b>Valid.</b> A reading at or below that of the original must. Above: the original gravity, marked <see cref="Validity.Extrapolated"/>.</para>
    /// <para><b>Error.</b> Gravity 0.003, alcohol 0.8 % vol: 0.2 °Bx in the reading are 0.0014 or 0.25 % vol, the original as much, and the
    /// mass balance 0.5 % vol. Dissolved gas and turbidity add to it: filter and degas.</para>
    /// <para><b>Source.</b> As for <see cref="BrixShown(AlcoholByVolume, SugarConcentration)"/>. <b>Check.</b> RefractometerTests.</para>
    /// </remarks>
    public static (Computed<SpecificGravity> Present, Computed<AlcoholByVolume> Alcohol) Of(SpecificGravity original, double brixShown)
    {
        var (low, high) = (Math.Min(0.97, original.Value), original.Value);
        var isInside = brixShown <= Shown(original, high) && brixShown >= Shown(original, low);
        for (var i = 0; i < 50; i++)
        {
            var middle = (low + high) / 2;
            (low, high) = Shown(original, middle) < brixShown ? (middle, high) : (low, middle);
        }

        var balance = MassBalance.Of(original, SpecificGravity.FromRatio((low + high) / 2));
        var validity = isInside ? balance.Alcohol.Validity : Validity.Extrapolated;
        return (
            new(SpecificGravity.FromRatio((low + high) / 2), GravityTolerance, validity),
            new(balance.Alcohol.Value, AlcoholTolerancePercent, validity));
    }

    /// <summary>Alcohol and extract from a degassed hydrometer and a refractometer reading of one sample, no original gravity needed.</summary>
    /// <remarks>
    /// <para><b>Equation.</b> For each alcohol, Tabarié's rule gives the extract from the gravity; the alcohol at which both show this Brix.</para>
    /// <para><b>Valid.</b> 0 to 25 % vol. Where no alcohol fits: the nearer end, marked <see cref="Validity.Extrapolated"/>.</para>
    /// <para><b>Error.</b> 0.8 % vol and 4 g/L: 0.001 in the gravity is 0.37 % vol, 0.2 °Bx are 0.3 % vol, the model 0.5 (gap to [Rogerson2006]).</para>
    /// <para><b>Source.</b> As for <see cref="BrixShown(AlcoholByVolume, SugarConcentration)"/>. <b>Check.</b> RefractometerTests.</para>
    /// </remarks>
    public static (Computed<AlcoholByVolume> Alcohol, Computed<SugarConcentration> Extract) WithHydrometer(SpecificGravity gravity, double brixShown)
    {
        var (low, high) = (0.0, 25.0);
        var isInside = ShownAt(gravity, low) <= brixShown && ShownAt(gravity, high) >= brixShown;
        for (var i = 0; i < 50; i++)
        {
            var middle = (low + high) / 2;
            (low, high) = ShownAt(gravity, middle) < brixShown ? (middle, high) : (low, middle);
        }

        var alcohol = AlcoholByVolume.FromPercent((low + high) / 2);
        var validity = isInside && alcohol.Percent <= 20 ? Validity.WithinSource : Validity.Extrapolated;
        return (
            new(alcohol, AlcoholTolerancePercent, validity),
            new(DryExtract.Of(gravity, alcohol).Value, 4, validity));
    }

    /// <summary>Alcohol of young fortified wine by the measured relation of 35 ports, never below 0. [% vol]</summary>
    /// <param name="brixShown">Refractometer. [°Bx]</param>
    /// <param name="baumeShown">Hydrometer. [°Bé]</param>
    /// <remarks>
    /// <para><b>Equation.</b> A = 1.646 B − 2.703 Bé − 1.794. <b>Valid.</b> Young fortified wine; 17 to 21 % vol, the usual strength of it from memory. <b>Error.</b> 0.5 % vol (an estimate).
    /// <b>Source.</b> [Rogerson2006]. <b>Check.</b> RefractometerTests.</para>
    /// </remarks>
    public static Computed<AlcoholByVolume> FortifiedAlcohol(double brixShown, double baumeShown)
    {
        var percent = Math.Clamp((1.646 * brixShown) - (2.703 * baumeShown) - 1.794, 0, 100);
        return new(AlcoholByVolume.FromPercent(percent), 0.5, percent is >= 17 and <= 21 ? Validity.WithinSource : Validity.Extrapolated);
    }

    private static double Shown(SpecificGravity original, double present)
    {
        var balance = MassBalance.Of(original, SpecificGravity.FromRatio(present));
        return BrixShown(balance.Alcohol.Value.Percent / 100, balance.RealExtract.Value.GramsPerLiter, present);
    }

    private static double ShownAt(SpecificGravity gravity, double percent) => BrixShown(
        percent / 100, DryExtract.Of(gravity, AlcoholByVolume.FromPercent(percent)).Value.GramsPerLiter, gravity.Value);

    private static double BrixShown(double volumeFraction, double gramsPerLiter, double gravity)
    {
        var density = gravity * SucrosePolynomial.WaterAt20;
        var extract = Math.Min(gramsPerLiter, HighestGramsPerLiter);
        return RefractiveIndex.BrixOf(RefractiveIndex.Of(extract / density, volumeFraction * EthanolPolynomial.EthanolAt20 / density, density));
    }
}
