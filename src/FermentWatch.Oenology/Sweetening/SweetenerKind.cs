namespace FermentWatch.Oenology.Sweetening;

/// <summary>Sweeteners that yeast can ferment.</summary>
public enum SweetenerKind
{
    /// <summary>White sugar, sucrose.</summary>
    Sucrose,

    /// <summary>Dextrose without water.</summary>
    Dextrose,

    /// <summary>Dextrose with its crystal water, the usual powder.</summary>
    DextroseMonohydrate,

    /// <summary>Soft brown sugar.</summary>
    BrownSugar,

    /// <summary>Honey; its water is asked for.</summary>
    Honey,

    /// <summary>Juice concentrate, or juice; its °Brix are asked for.</summary>
    Concentrate,

    /// <summary>Sugar syrup; its °Brix are asked for.</summary>
    Syrup,
}
