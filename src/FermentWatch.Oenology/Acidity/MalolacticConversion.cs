using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Acidity;

/// <summary>What malolactic bacteria make of malic acid.</summary>
/// <remarks>
/// <para><b>Equation.</b> C₄H₆O₅ → C₃H₆O₃ + CO₂: 1 g malic gives 0.672 g lactic and 0.328 g carbon dioxide, and takes 0.560 g/L (as
/// tartaric) from the titratable acidity.</para>
/// <para><b>Valid.</b> Malic against lactic is stoichiometric in production lots [RiceMattick1970]; volatile acidity rises by 0.1 to 0.15
/// g/L besides. pH rises by about 0.2, more at higher pH [BousbourasKunkee1971].</para>
/// <para><b>Error.</b> That of the malic acid measured. <b>Source.</b> Stoichiometry. <b>Check.</b> MalolacticConversionTests.</para>
/// </remarks>
public static class MalolacticConversion
{
    private static double CarbonDioxideGramsPerMole => MolarMass.Of(1, 0, 2);

    /// <summary>Lactic acid formed. [g/L]</summary>
    public static MassConcentration LacticFrom(MassConcentration malic) =>
        MassConcentration.FromGramsPerLiter(malic.GramsPerLiter * WeakAcid.Lactic.GramsPerMole / WeakAcid.Malic.GramsPerMole);

    /// <summary>Carbon dioxide formed: it can build pressure in a bottle. [g/L]</summary>
    public static MassConcentration CarbonDioxideFrom(MassConcentration malic) =>
        MassConcentration.FromGramsPerLiter(malic.GramsPerLiter * CarbonDioxideGramsPerMole / WeakAcid.Malic.GramsPerMole);

    /// <summary>Fall of the titratable acidity: one proton for each molecule. [meq/L]</summary>
    public static TitratableAcidity FallFrom(MassConcentration malic) =>
        TitratableAcidity.FromMilliequivalentsPerLiter(1000 * malic.GramsPerLiter / WeakAcid.Malic.GramsPerMole);
}
