using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Sulfite;

/// <summary>A sulfite tablet by the strength that its label states: strengths differ by half, so none is assumed.</summary>
/// <param name="SulfurDioxideMilligrams">Sulfur dioxide that one tablet brings. [mg]</param>
public readonly record struct SulfiteTablet(double SulfurDioxideMilligrams)
{
    /// <summary>A tablet whose label says how much sulfur dioxide it gives in a volume, such as 50 mg/L in 4.5 L.</summary>
    public static SulfiteTablet OfLabel(MassConcentration addition, Volume volume) => Checked(addition.MilligramsPerLiter * volume.Liters);

    /// <summary>A tablet whose label says how much salt it holds.</summary>
    public static SulfiteTablet OfSalt(double grams, SulfiteSalt salt)
    {
        ArgumentNullException.ThrowIfNull(salt);
        return Checked(1000 * grams * salt.SulfurDioxideShare);
    }

    /// <summary>Tablets for an addition; whole ones are rounded by the reader, visibly. [1]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> mg/L · L / mg in a tablet. <b>Valid.</b> Crushed and dissolved. <b>Error.</b> That of the label.</para>
    /// <para><b>Source.</b> Arithmetic. <b>Check.</b> SulfiteTabletTests.</para>
    /// </remarks>
    public double CountFor(MassConcentration addition, Volume volume) => addition.MilligramsPerLiter * volume.Liters / SulfurDioxideMilligrams;

    /// <summary>Addition that a number of tablets makes. [mg/L]</summary>
    public MassConcentration AdditionOf(double tablets, Volume volume) =>
        MassConcentration.FromMilligramsPerLiter(tablets * SulfurDioxideMilligrams / volume.Liters);

    private static SulfiteTablet Checked(double milligrams)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(milligrams);
        return new(milligrams);
    }
}
