using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Sorbate;

/// <summary>Potassium sorbate, C₆H₇KO₂, and the sorbic acid in it, which laws limit.</summary>
public static class PotassiumSorbate
{
    /// <summary>Molar mass of sorbic acid. [g/mol]</summary>
    public static double SorbicAcidGramsPerMole => MolarMass.Of(6, 8, 2);

    /// <summary>Molar mass of potassium sorbate. [g/mol]</summary>
    public static double GramsPerMole => MolarMass.Of(6, 7, 2) + MolarMass.Potassium;

    /// <summary>Sorbic acid in a gram, computed from atomic masses: 0.746. [g/g]</summary>
    public static double SorbicAcidShare => SorbicAcidGramsPerMole / GramsPerMole;

    /// <summary>Sorbic acid that a dose of potassium sorbate brings. [mg/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> 0.7464 · dose. <b>Valid.</b> Fresh powder; old yellow powder is weaker and tastes. <b>Error.</b> 1 %.</para>
    /// <para><b>Source.</b> Atomic masses. <b>Check.</b> SorbateTests.</para>
    /// </remarks>
    public static MassConcentration SorbicAcidOf(MassConcentration potassiumSorbate) =>
        MassConcentration.FromMilligramsPerLiter(potassiumSorbate.MilligramsPerLiter * SorbicAcidShare);

    /// <summary>Potassium sorbate for an amount of sorbic acid: the inverse. [mg/L]</summary>
    public static MassConcentration ForSorbicAcid(MassConcentration sorbicAcid) =>
        MassConcentration.FromMilligramsPerLiter(sorbicAcid.MilligramsPerLiter / SorbicAcidShare);
}
