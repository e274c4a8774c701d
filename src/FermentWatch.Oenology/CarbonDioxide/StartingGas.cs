using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.CarbonDioxide;

/// <summary>Carbon dioxide that a wine holds before it is bottled.</summary>
public static class StartingGas
{
    /// <summary>What is taken for a wine that was degassed with care (common practice, no source). [g/L]</summary>
    public const double DegassedGramsPerLiter = 0.5;

    /// <summary>Gas that is there: measured, left after degassing, or full saturation under an airlock. [g/L]</summary>
    /// <remarks>
    /// <para><b>Rule.</b> What was measured counts; then degassing; and without both the wine is taken as saturated at its temperature
    /// (<see cref="CarbonDioxideSolubility.Saturation"/>): wine in a carboy is, at about 1.4 g/L at 20 °C and 1.9 at 12.</para>
    /// <para><b>Error.</b> Degassed wine: ±0.3 g/L (common practice, no source). Measured: ±0.1 g/L. <b>Check.</b> BottlePressureTests.</para>
    /// </remarks>
    /// <param name="measured">Measured, or null.</param>
    /// <param name="degassed">Whether it was degassed since it last fermented.</param>
    /// <param name="temperature">The coldest it lately had when pressure is the question, the warmest when a sparkle is wanted.</param>
    /// <param name="alcohol">Alcohol.</param>
    /// <param name="sugar">Sugar.</param>
    public static Computed<MassConcentration> Of(MassConcentration? measured, bool degassed, Temperature temperature, AlcoholByVolume alcohol, SugarConcentration sugar)
    {
        if (measured is { } known)
        {
            return new(known, 100, Validity.WithinSource);
        }

        var saturation = CarbonDioxideSolubility.Saturation(temperature, alcohol, sugar);
        var left = MassConcentration.FromGramsPerLiter(DegassedGramsPerLiter);
        return degassed && left < saturation.Value ? new(left, 300, Validity.WithinSource) : saturation;
    }
}
