using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Acidity;

/// <summary>A balance of red wine after Peynaud: alcohol against acid and tannin.</summary>
public static class SupplenessIndex
{
    /// <summary>From about here a red wine tastes supple.</summary>
    public const double Supple = 5;

    /// <summary>Alcohol less acid and tannin. [1]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> % vol − (acidity in g/L as sulfuric + tannin in g/L).</para>
    /// <para><b>Valid.</b> Dry red table wine only; sweetness is not in it. Outside, a number without meaning.</para>
    /// <para><b>Error.</b> A rule of taste: half a unit is nothing. <b>Source.</b> [Peynaud1984]; that acidity is meant as sulfuric is from
    /// memory. <b>Check.</b> SupplenessIndexTests.</para>
    /// </remarks>
    public static double Of(AlcoholByVolume alcohol, TitratableAcidity acidity, MassConcentration tannin) =>
        alcohol.Percent - (acidity.GramsPerLiter(AcidBasis.Sulfuric) + tannin.GramsPerLiter);
}
