namespace FermentWatch.Oenology.Quantities;

/// <summary>The acid that a titratable acidity is expressed as.</summary>
public enum AcidBasis
{
    /// <summary>Tartaric acid, the usual one for wine in most countries.</summary>
    Tartaric,

    /// <summary>Malic acid, usual for cider.</summary>
    Malic,

    /// <summary>Citric acid, usual for fruit juice.</summary>
    Citric,

    /// <summary>Lactic acid.</summary>
    Lactic,

    /// <summary>Sulfuric acid, a French custom; the wine holds none of it.</summary>
    Sulfuric,

    /// <summary>Acetic acid, usual for volatile acidity.</summary>
    Acetic,

    /// <summary>Succinic acid.</summary>
    Succinic,

    /// <summary>Gluconic acid, the main acid of honey.</summary>
    Gluconic,
}

/// <summary>Equivalent masses of the acids that an acidity is expressed as.</summary>
public static class AcidBasisMasses
{
    /// <summary>Molar mass over the protons that the acid gives, computed from atomic masses. [g/eq]</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not a member of the enumeration.</exception>
    public static double GramsPerEquivalent(this AcidBasis basis) => basis switch
    {
        AcidBasis.Tartaric => MolarMass.Of(4, 6, 6) / 2,
        AcidBasis.Malic => MolarMass.Of(4, 6, 5) / 2,
        AcidBasis.Citric => MolarMass.Of(6, 8, 7) / 3,
        AcidBasis.Lactic => MolarMass.Of(3, 6, 3),
        AcidBasis.Sulfuric => (MolarMass.Of(0, 2, 4) + MolarMass.Sulfur) / 2,
        AcidBasis.Acetic => MolarMass.Of(2, 4, 2),
        AcidBasis.Succinic => MolarMass.Of(4, 6, 4) / 2,
        AcidBasis.Gluconic => MolarMass.Of(6, 12, 7),
        _ => throw new ArgumentOutOfRangeException(nameof(basis), basis, "The acid must be one of those listed."),
    };
}
