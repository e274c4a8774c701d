using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Nutrients;

/// <summary>Diammonium phosphate, the inorganic nitrogen of the trade.</summary>
public static class DiammoniumPhosphate
{
    /// <summary>Nitrogen that yeast can take up in a gram of the salt: 2 × 14.007 of 132.056 g/mol. [g/g]</summary>
    public const double NitrogenFraction = 2 * 14.007 / 132.056;

    /// <summary>Share of the sugar after which no inorganic nitrogen is given. Dimensionless.</summary>
    public const double LatestShare = 1.0 / 3;

    /// <summary>Alcohol past which yeast no longer takes it up. [% vol]</summary>
    public const double LatestAlcoholPercent = 9;

    /// <summary>Nitrogen of a dose. [mg N/L]</summary>
    /// <remarks>1000·f·dose, f = 0.2121: computed from atomic masses. One page prints 22.5 %: wrong. <b>Check.</b> NutrientTests.</remarks>
    /// <param name="gramsPerLiter">0 to 10 g/L.</param>
    /// <exception cref="ArgumentOutOfRangeException">Outside 0 to 10 g/L.</exception>
    public static double MilligramsNitrogenPerLiter(double gramsPerLiter) =>
        1000 * NitrogenFraction * QuantityRange.Require(gramsPerLiter, 0, 10, "dose", "g/L");

    /// <summary>Salt for a lack of nitrogen. [g]</summary>
    /// <param name="milligramsNitrogenPerLiter">0 to 1000 mg N/L.</param>
    /// <param name="volume">Volume of must.</param>
    /// <exception cref="ArgumentOutOfRangeException">Outside 0 to 1000 mg N/L.</exception>
    public static double GramsFor(double milligramsNitrogenPerLiter, Volume volume) =>
        QuantityRange.Require(milligramsNitrogenPerLiter, 0, 1000, "nitrogen", "mg N/L") / 1000 / NitrogenFraction * volume.Liters;
}
