using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Sweetening;

/// <summary>Words for the sweetness of sparkling wine.</summary>
public enum SparklingSweetness
{
    /// <summary>Below 3 g/L, no sugar added after the second fermentation.</summary>
    BrutNature,

    /// <summary>Up to 6 g/L.</summary>
    ExtraBrut,

    /// <summary>Below 12 g/L.</summary>
    Brut,

    /// <summary>12 to 17 g/L.</summary>
    ExtraDry,

    /// <summary>17 to 32 g/L.</summary>
    Dry,

    /// <summary>32 to 50 g/L.</summary>
    DemiSec,

    /// <summary>Above 50 g/L.</summary>
    Sweet,
}

/// <summary>Finds the word.</summary>
public static class SparklingWords
{
    /// <summary>The narrowest word that the sugar allows.</summary>
    /// <param name="sugar">Measured sugar. [g/L]</param>
    /// <param name="sugarAdded">Whether sugar was added after the second fermentation.</param>
    /// <remarks><para><b>Source.</b> [EC6072009] Annex XIV part A. <b>Check.</b> SweeteningTests.</para></remarks>
    /// <exception cref="ArgumentOutOfRangeException">Sugar below 0.</exception>
    public static SparklingSweetness Of(SugarConcentration sugar, bool sugarAdded) =>
        QuantityRange.Require(sugar.GramsPerLiter, 0, 1500, "sugar", "g/L") switch
        {
            < 3 when !sugarAdded => SparklingSweetness.BrutNature,
            <= 6 => SparklingSweetness.ExtraBrut,
            < 12 => SparklingSweetness.Brut,
            <= 17 => SparklingSweetness.ExtraDry,
            <= 32 => SparklingSweetness.Dry,
            <= 50 => SparklingSweetness.DemiSec,
            _ => SparklingSweetness.Sweet,
        };
}
