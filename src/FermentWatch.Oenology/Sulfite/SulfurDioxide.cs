using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Sulfite;

/// <summary>Free and molecular sulfur dioxide. Only the molecular part holds microbes, and there is less of it the higher the pH.</summary>
public static class SulfurDioxide
{
    /// <summary>Molar mass of SO₂. [g/mol]</summary>
    public static double GramsPerMole => MolarMass.Of(0, 0, 2) + MolarMass.Sulfur;

    /// <summary>Molecular sulfur dioxide wanted in red wine [UCCE1982]. [mg/L]</summary>
    public static MassConcentration RedTarget { get; } = MassConcentration.FromMilligramsPerLiter(0.5);

    /// <summary>Molecular sulfur dioxide wanted in white and sweet wine, and in mead [UCCE1982]. [mg/L]</summary>
    public static MassConcentration WhiteTarget { get; } = MassConcentration.FromMilligramsPerLiter(0.8);

    /// <summary>Molecular sulfur dioxide that stings the nose [Waterhouse2016]. [mg/L]</summary>
    public static MassConcentration SensoryThreshold { get; } = MassConcentration.FromMilligramsPerLiter(2);

    /// <summary>Share of free sulfur dioxide that is molecular. [1]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> 1/(1 + 10^(pH − pKa)). The second dissociation is left out: under 0.2 % below pH 4.</para>
    /// <para><b>Valid.</b> pH 2.5 to 4.5. Outside: marked <see cref="Validity.Extrapolated"/>.</para>
    /// <para><b>Error.</b> From ±0.05 in the pKa: 12 % of the share. A meter's ±0.05 pH adds as much.</para>
    /// <para><b>Source.</b> [UCCE1982] with pKa 1.81. <b>Check.</b> SulfurDioxideTests.</para>
    /// </remarks>
    public static Computed<Share> MolecularShare(Ph ph, double dissociation = SulfurDioxideDissociation.Usual)
    {
        var share = 1 / (1 + Math.Pow(10, ph.Value - dissociation));
        return new(new(share), RelativeError * share, ValidityAt(ph));
    }

    /// <summary>Molecular sulfur dioxide. [mg/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> Free times <see cref="MolecularShare"/>. <b>Valid, error.</b> As there.</para>
    /// <para><b>Source.</b> [UCCE1982]. <b>Check.</b> SulfurDioxideTests.</para>
    /// </remarks>
    public static Computed<MassConcentration> MolecularOf(MassConcentration free, Ph ph, double dissociation = SulfurDioxideDissociation.Usual)
    {
        var share = MolecularShare(ph, dissociation);
        return new(
            MassConcentration.FromMilligramsPerLiter(free.MilligramsPerLiter * share.Value.Value),
            free.MilligramsPerLiter * share.Tolerance,
            share.Validity);
    }

    /// <summary>Free sulfur dioxide that a wanted molecular amount needs. [mg/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> target·(1 + 10^(pH − pKa)), the inverse of <see cref="MolecularOf"/>.</para>
    /// <para><b>Valid.</b> pH 2.5 to 4.5; above pH 3.6 it asks for more than can be tasted away: acid first.</para>
    /// <para><b>Error.</b> 12 % by the pKa. <b>Source.</b> [UCCE1982], 24 printed values. <b>Check.</b> SulfurDioxideTests.</para>
    /// </remarks>
    public static Computed<MassConcentration> FreeNeeded(MassConcentration molecular, Ph ph, double dissociation = SulfurDioxideDissociation.Usual)
    {
        var free = molecular.MilligramsPerLiter * (1 + Math.Pow(10, ph.Value - dissociation));
        return new(MassConcentration.FromMilligramsPerLiter(Math.Min(free, 2_000_000)), RelativeError * free, ValidityAt(ph));
    }

    private static double RelativeError => Math.Pow(10, SulfurDioxideDissociation.UsualTolerance) - 1;

    private static Validity ValidityAt(Ph ph) => ph.Value is >= 2.5 and <= 4.5 ? Validity.WithinSource : Validity.Extrapolated;
}

/// <summary>A share from 0 to 1.</summary>
/// <param name="Value">The number.</param>
public readonly record struct Share(double Value);
