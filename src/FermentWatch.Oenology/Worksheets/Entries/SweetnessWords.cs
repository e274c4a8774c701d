using FermentWatch.Oenology.Sweetening;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>The words of the trade with the local ones beside.</summary>
internal static class SweetnessWords
{
    public static Phrase Of(SweetnessCategory category) => category switch
    {
        SweetnessCategory.Dry => "dry",
        SweetnessCategory.MediumDry => "medium dry (semi-dry)",
        SweetnessCategory.Medium => "medium (semi-sweet)",
        _ => "sweet",
    };

    public static Phrase Of(SparklingSweetness category) => category switch
    {
        SparklingSweetness.BrutNature => "brut nature",
        SparklingSweetness.ExtraBrut => "extra brut",
        SparklingSweetness.Brut => "brut",
        SparklingSweetness.ExtraDry => "extra dry",
        SparklingSweetness.Dry => "dry",
        SparklingSweetness.DemiSec => "demi-sec",
        _ => "sweet",
    };
}
