using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Alcohol;

/// <summary>Gravity of a ferment from the mass that its vessel lost as gas.</summary>
public static class GravityFromMassLoss
{
    /// <summary>Carbon dioxide that leaves for a gram of ethanol formed. [g/g]</summary>
    public const double CarbonDioxidePerEthanol = 0.9565;

    /// <summary>Carbon dioxide that leaves for a gram of extract used, 0.4629: theory without yeast and by-products is 0.4886 for hexose. [g/g]</summary>
    public const double CarbonDioxidePerExtract = CarbonDioxidePerEthanol / ExtractPerEthanol;

    private const double ExtractPerEthanol = 2.0665;
    private const double MassLeftPerEthanol = 1.0665;
    private const double OriginalError = 0.002;
    private const double RelativeError = 0.06;

    /// <summary>Present specific gravity 20/20 of the degassed liquid.</summary>
    /// <remarks>
    /// <para><b>Equation.</b> The must weighs M = s₀·0.9982012·V. Of 100 g must with E₀ °Plato, a g ethanol send 0.9565 a g carbon dioxide
    /// away (Balling), so a = 100 Δm / (0.9565 M). Yeast stays in the vessel, but not in solution: m = 100 − 1.0665 a, A = a/m,
    /// R = (E₀ − 2.0665 a)/m, and the gravity s solves s = s_alcohol(A s 998.2012/789.24) + s_extract(R s 998.2012) − 1, as in
    /// <see cref="MassBalance"/>, of which this is the other side.</para>
    /// <para><b>Valid.</b> Original 1.000 to 1.175; mass lost from 0 to what the extract can give. Beyond: held at that end and marked
    /// <see cref="Validity.Extrapolated"/>.</para>
    /// <para><b>Error.</b> ±0.002 of the original gravity, and 6 % of the fall: the volume to about 3 %, the yield of gas to about 4 %
    /// (0.46 to 0.47 g/g in practice, from memory), water and alcohol that the gas carries along and gas still dissolved
    /// (up to 1.5 g/L) the rest. Evaporation over months, samples and rackings are not in it: those are taken out as steps.</para>
    /// <para><b>Source.</b> [Balling1865] by [Speers], [OIMLR22], [Bubnik1995]. <b>Check.</b> GravityFromMassLossTests.</para>
    /// </remarks>
    /// <param name="original">Gravity before fermentation.</param>
    /// <param name="must">Volume of must at the start; above 0.</param>
    /// <param name="kilogramsLost">Mass lost as gas since the start. [kg]</param>
    /// <exception cref="ArgumentOutOfRangeException">No volume, or a mass that is not a number.</exception>
    public static Computed<SpecificGravity> Of(SpecificGravity original, Volume must, double kilogramsLost)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(must.Liters, nameof(must));
        if (!double.IsFinite(kilogramsLost))
        {
            throw new ArgumentOutOfRangeException(nameof(kilogramsLost), kilogramsLost, "The mass lost must be a number of kilograms.");
        }

        var extract = 100 * SucrosePolynomial.MassFractionOfGravity(original.Value);
        var mass = original.Value * SucrosePolynomial.WaterAt20 / 1000 * must.Liters;
        var told = 100 * kilogramsLost / mass / CarbonDioxidePerEthanol;
        var ethanol = Math.Clamp(told, 0, Math.Max(0, extract / ExtractPerEthanol));
        var gravity = GravityAt(extract, ethanol, original.Value);
        var validity = ethanol.Equals(told) && original.Value is >= 1 and <= 1.175 ? Validity.WithinSource : Validity.Extrapolated;
        var fall = RelativeError * (original.Value - gravity);
        return new(SpecificGravity.FromRatio(gravity), Math.Sqrt((OriginalError * OriginalError) + (fall * fall)), validity);
    }

    private static double GravityAt(double extract, double ethanol, double start)
    {
        var left = 100 - (MassLeftPerEthanol * ethanol);
        var gravity = start;
        // The right side hardly depends on the gravity that it is multiplied by: each turn gains about two digits.
        for (var i = 0; i < 60; i++)
        {
            var alcohol = EthanolPolynomial.MassFraction(ethanol / left * gravity * EthanolPolynomial.WaterAt20 / EthanolPolynomial.EthanolAt20);
            var next = (EthanolPolynomial.KilogramsPerCubicMeterAt20(alcohol) / EthanolPolynomial.WaterAt20)
                + SucrosePolynomial.GravityOfGramsPerLiter((extract - (ExtractPerEthanol * ethanol)) / left * gravity * SucrosePolynomial.WaterAt20)
                - 1;
            if (Math.Abs(next - gravity) < 1e-13)
            {
                return next;
            }

            gravity = next;
        }

        return gravity;
    }
}
