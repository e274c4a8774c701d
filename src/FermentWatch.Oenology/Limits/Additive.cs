namespace FermentWatch.Oenology.Limits;

/// <summary>What is added to must, wine or mead and has a guard rail. Every dose is a mass in a liter; the words beside each say of what.</summary>
public enum Additive
{
    /// <summary>Sulfite, as total sulfur dioxide.</summary>
    SulfurDioxide = 1,

    /// <summary>Sorbate, as sorbic acid.</summary>
    SorbicAcid,

    /// <summary>Tartaric, malic, lactic acid or a blend, as tartaric.</summary>
    Acid,

    /// <summary>Citric acid, as citric.</summary>
    CitricAcid,

    /// <summary>Ascorbic acid.</summary>
    AscorbicAcid,

    /// <summary>Potassium bicarbonate.</summary>
    PotassiumBicarbonate,

    /// <summary>Calcium carbonate.</summary>
    CalciumCarbonate,

    /// <summary>Diammonium phosphate.</summary>
    DiammoniumPhosphate,

    /// <summary>Ammonium sulfate.</summary>
    AmmoniumSulfate,

    /// <summary>Dry yeast.</summary>
    DryYeast,

    /// <summary>Tannin powder.</summary>
    TanninPowder,

    /// <summary>Oak chips.</summary>
    OakChips,

    /// <summary>Bentonite.</summary>
    Bentonite,

    /// <summary>Copper, as the metal.</summary>
    Copper,
}
