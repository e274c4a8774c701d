using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Sulfite;

/// <summary>A stock solution of sulfite: doses too small to weigh are measured with a syringe.</summary>
public static class SulfiteStock
{
    /// <summary>Usual strength: 10 g of powder made up to 100 mL. [g/mL]</summary>
    public const double UsualGramsPerMilliliter = 0.1;

    /// <summary>Powder for a bottle of stock. [g]</summary>
    public static double GramsFor(double milliliters, double gramsPerMilliliter = UsualGramsPerMilliliter) => milliliters * gramsPerMilliliter;

    /// <summary>Stock for an addition. [mL]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> grams of powder / (g/mL). With 10 % potassium metabisulfite, 1 mL brings 57.6 mg of sulfur dioxide.</para>
    /// <para><b>Valid.</b> Used within a week or two, kept full and closed (common practice, no source): it loses gas.</para>
    /// <para><b>Error.</b> 2 % fresh. <b>Source.</b> Atomic masses. <b>Check.</b> SulfiteDoseTests.</para>
    /// </remarks>
    public static double MillilitersFor(MassConcentration addition, Volume volume, SulfiteSalt salt, double gramsPerMilliliter = UsualGramsPerMilliliter)
    {
        ArgumentNullException.ThrowIfNull(salt);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(gramsPerMilliliter);
        return salt.GramsFor(addition, volume) / gramsPerMilliliter;
    }
}
