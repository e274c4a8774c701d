using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Acidity;

/// <summary>Acid that honey brings into a must: little, mostly gluconic.</summary>
public static class HoneyAcidity
{
    /// <summary>Mean total acidity of 490 honeys [White1962]. [meq/kg]</summary>
    public const double MeanMilliequivalentsPerKilogram = 29.12;

    /// <summary>Lowest of them. [meq/kg]</summary>
    public const double LowestMilliequivalentsPerKilogram = 8.68;

    /// <summary>Highest of them. [meq/kg]</summary>
    public const double HighestMilliequivalentsPerKilogram = 59.49;

    /// <summary>Titratable acidity of a must from its honey alone. [meq/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> honey in kg/L times meq/kg. 300 g/L of the mean honey: 8.7 meq/L, 0.66 g/L as tartaric.</para>
    /// <para><b>Valid.</b> Blossom honey; honeydew is higher. The lactones turn into acid slowly, so the acidity drifts up.</para>
    /// <para><b>Error.</b> Stated as the widest of the honeys measured: from 0.3 to 2 times the mean. <b>Source.</b> [White1962].
    /// <b>Check.</b> HoneyAcidityTests.</para>
    /// </remarks>
    /// <param name="honey">Honey in a liter of must.</param>
    /// <param name="milliequivalentsPerKilogram">Total acidity of the honey, 0 to 200.</param>
    public static Computed<TitratableAcidity> Of(MassConcentration honey, double milliequivalentsPerKilogram = MeanMilliequivalentsPerKilogram)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(milliequivalentsPerKilogram);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(milliequivalentsPerKilogram, 200);
        var kilograms = honey.GramsPerLiter / 1000;
        return new(
            TitratableAcidity.FromMilliequivalentsPerLiter(kilograms * milliequivalentsPerKilogram),
            kilograms * (HighestMilliequivalentsPerKilogram - MeanMilliequivalentsPerKilogram),
            milliequivalentsPerKilogram is >= LowestMilliequivalentsPerKilogram and <= HighestMilliequivalentsPerKilogram ? Validity.WithinSource : Validity.Extrapolated);
    }
}
