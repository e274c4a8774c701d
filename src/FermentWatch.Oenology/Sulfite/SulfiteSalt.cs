using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Sulfite;

/// <summary>A sulfite powder: which salt, and how much of its strength is left.</summary>
public sealed record SulfiteSalt
{
    private SulfiteSalt(string code, double metal, double strength) =>
        (Code, GramsPerMole, Strength, SulfurDioxideShare) = (code, DisulfiteOf(metal), strength, strength * 2 * SulfurDioxide.GramsPerMole / DisulfiteOf(metal));

    /// <summary>Fresh potassium metabisulfite, K₂S₂O₅: 57.6 % sulfur dioxide.</summary>
    public static SulfiteSalt Potassium { get; } = new("potassium", MolarMass.Potassium, 1);

    /// <summary>Fresh sodium metabisulfite, Na₂S₂O₅: 67.4 % sulfur dioxide. It brings sodium, so potassium is preferred in wine.</summary>
    public static SulfiteSalt Sodium { get; } = new("sodium", MolarMass.Sodium, 1);

    /// <summary>Its name.</summary>
    public string Code { get; }

    /// <summary>Molar mass. [g/mol]</summary>
    public double GramsPerMole { get; }

    /// <summary>What is left of the fresh powder's strength, above 0 up to 1.</summary>
    public double Strength { get; private init; }

    /// <summary>Sulfur dioxide in a gram. [g/g]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> strength · 2·64.06/M. <b>Valid.</b> Fresh, dry powder; stored powder loses strength, usually 50 to 57 % is
    /// left of potassium's 57.6 (from memory).</para>
    /// <para><b>Error.</b> 1 % fresh. <b>Source.</b> Atomic masses; [PWV2014] prints 57.6 %. <b>Check.</b> SulfiteSaltTests.</para>
    /// </remarks>
    public double SulfurDioxideShare { get; private init; }

    /// <summary>The same salt after storage.</summary>
    /// <param name="strength">What is left, above 0 up to 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">Outside that range.</exception>
    public SulfiteSalt WithStrength(double strength)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(strength);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(strength, 1);
        return this with { Strength = strength, SulfurDioxideShare = SulfurDioxideShare / Strength * strength };
    }

    /// <summary>Powder for an addition of total sulfur dioxide. [g]</summary>
    public double GramsFor(MassConcentration addition, Volume volume) => addition.GramsIn(volume) / SulfurDioxideShare;

    /// <summary>Addition that an amount of powder makes: the inverse of <see cref="GramsFor"/>. [mg/L]</summary>
    /// <exception cref="ArgumentOutOfRangeException">No volume, or a negative mass.</exception>
    public MassConcentration AdditionOf(double grams, Volume volume)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(volume.Liters);
        return MassConcentration.FromGramsPerLiter(grams * SulfurDioxideShare / volume.Liters);
    }

    private static double DisulfiteOf(double metal) => (2 * metal) + (2 * MolarMass.Sulfur) + MolarMass.Of(0, 0, 5);
}
