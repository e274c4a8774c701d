using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Sweetening;

/// <summary>Words for the sweetness of a still wine, from dry to sweet.</summary>
public enum SweetnessCategory
{
    /// <summary>Dry.</summary>
    Dry,

    /// <summary>Medium dry; locally semi-dry or off-dry.</summary>
    MediumDry,

    /// <summary>Medium; locally semi-sweet.</summary>
    Medium,

    /// <summary>Sweet.</summary>
    Sweet,
}

/// <summary>Sweetness by sugar and total acidity, in the words of the trade of grape wine; for mead a descriptive scale.</summary>
public static class Sweetness
{
    /// <summary>From here a wine is called sweet. [g/L]</summary>
    public const double SweetFromGramsPerLiter = 45;

    /// <summary>Category of a still wine.</summary>
    /// <param name="sugar">Measured sugar. [g/L]</param>
    /// <param name="totalAcidity">Total acidity as tartaric acid. [g/L]</param>
    /// <remarks>
    /// <para><b>Rule.</b> Dry to 4 g/L, or to 9 when acidity ≥ sugar − 2; medium dry to 12, or to 18 when acidity ≥ sugar − 10; medium
    /// below 45; sweet from 45 (where medium and sweet overlap in the text).</para>
    /// <para><b>Source.</b> [OIV316]; the same figures in [EU201933] from memory. <b>Check.</b> SweeteningTests.</para>
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">Sugar below 0, or acidity outside 0 to 40 g/L.</exception>
    public static SweetnessCategory Of(SugarConcentration sugar, double totalAcidity)
    {
        var grams = QuantityRange.Require(sugar.GramsPerLiter, 0, 1500, "sugar", "g/L");
        QuantityRange.Require(totalAcidity, 0, 40, "total acidity", "g/L");
        return grams <= HighestOf(SweetnessCategory.Dry, totalAcidity) ? SweetnessCategory.Dry
            : grams <= HighestOf(SweetnessCategory.MediumDry, totalAcidity) ? SweetnessCategory.MediumDry
            : grams < SweetFromGramsPerLiter ? SweetnessCategory.Medium
            : SweetnessCategory.Sweet;
    }

    /// <summary>Most sugar of a category at this total acidity. [g/L]</summary>
    /// <remarks>Rule and source as for <see cref="Of"/>; sweet has no end, 200 is given.</remarks>
    public static double HighestOf(SweetnessCategory category, double totalAcidity) => category switch
    {
        SweetnessCategory.Dry => Math.Clamp(totalAcidity + 2, 4, 9),
        SweetnessCategory.MediumDry => Math.Clamp(totalAcidity + 10, 12, 18),
        SweetnessCategory.Medium => SweetFromGramsPerLiter,
        _ => 200,
    };

    /// <summary>Least sugar of a category at this total acidity. [g/L]</summary>
    public static double LowestOf(SweetnessCategory category, double totalAcidity) =>
        category == SweetnessCategory.Dry ? 0 : HighestOf(category - 1, totalAcidity);
}
