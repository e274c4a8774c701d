using System.Text.RegularExpressions;

namespace FermentWatch.Service.Dashboard.Words;

/// <summary>Figures that are written out in a text of the worksheets, such as '0.25 g/L': with the reader's decimal mark, and never parted from their unit.</summary>
/// <remarks>Paragraphs of laws and codes ('27 CFR 24.246', 'OIV 3.1.6', 'annex A.1') are names and stay as they are.</remarks>
internal static partial class FixedFigures
{
    /// <summary>The text as the reader reads its figures.</summary>
    /// <param name="text">With points for the decimal mark, and commas between thousands.</param>
    /// <param name="mark">The reader's decimal mark.</param>
    public static string Written(string text, DecimalMark mark)
    {
        var joined = BeforeUnit().Replace(text, Figures.NoBreak.ToString());
        return mark is DecimalMark.Comma
            ? Fraction().Replace(Thousands().Replace(joined, "$1" + Figures.NoBreak + "$2"), "$1,$2")
            : joined;
    }

    [GeneratedRegex(@"(?<=[\d}]) (?=(?:mg N/L|m?g|kg|m?L|bar|°(?:C|F|P|Bx|Oe)|%|ppm|meq|min|h|d|m³|kJ|kcal|mol|W|lb|gal)(?![\p{L}\d]))")]
    private static partial Regex BeforeUnit();

    [GeneratedRegex(@"(?<![\p{L}\d.,])(\d{1,3}),(\d{3})(?![\d.,]\d|\d)")]
    private static partial Regex Thousands();

    // No second point behind it, no letter, point or other number before it, and no 'CFR'.
    [GeneratedRegex(@"(?<![\p{L}\d.,]|OIV |CFR )(\d+)\.(\d+)(?![\d]|\.\d|\p{L})")]
    private static partial Regex Fraction();
}
