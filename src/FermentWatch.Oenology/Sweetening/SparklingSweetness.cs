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
    /// <summary>Least sugar of a word. [g/L]</summary>
    /// <remarks>Figures and source as for <see cref="Of"/>; brut begins where extra brut ends, though the text gives it no beginning.</remarks>
    public static double LowestOf(SparklingSweetness word) => word switch
    {
        SparklingSweetness.BrutNature or SparklingSweetness.ExtraBrut => 0,
        _ => HighestOf(word - 1),
    };

    /// <summary>Most sugar of a word; 200 for sweet, which has no end. [g/L]</summary>
    /// <remarks>Figures and source as for <see cref="Of"/>. Of brut nature and brut the figure itself is no longer part.</remarks>
    public static double HighestOf(SparklingSweetness word) => word switch
    {
        SparklingSweetness.BrutNature => 3,
        SparklingSweetness.ExtraBrut => 6,
        SparklingSweetness.Brut => 12,
        SparklingSweetness.ExtraDry => 17,
        SparklingSweetness.Dry => 32,
        SparklingSweetness.DemiSec => 50,
        _ => 200,
    };

    /// <summary>The narrowest word that the sugar allows.</summary>
    /// <param name="sugar">Measured sugar. [g/L]</param>
    /// <param name="sugarAdded">Whether sugar was added after the second fermentation.</param>
    /// <remarks><para><b>Source.</b> [EC6072009] Annex XIV part A. <b>Check.</b> SweeteningTests.</para></remarks>
    /// <exception cref="ArgumentOutOfRangeException">Sugar below 0.</exception>
    public static SparklingSweetness Of(SugarConcentration sugar, bool sugarAdded)
    {
        var grams = QuantityRange.Require(sugar.GramsPerLiter, 0, 1500, "sugar", "g/L");
        return Enum.GetValues<SparklingSweetness>().First(word => word switch
        {
            SparklingSweetness.BrutNature => !sugarAdded && grams < HighestOf(word),
            SparklingSweetness.Brut => grams < HighestOf(word),
            SparklingSweetness.Sweet => true,
            _ => grams <= HighestOf(word),
        });
    }
}
