using System.Text.RegularExpressions;
using SkiaSharp;

namespace FermentWatch.Service.Dashboard.Pictures;

/// <summary>How the classes of a picture look where no style sheet is read: the same colors by the same names, taken from the tokens of the pages, light.</summary>
internal static partial class PixelLook
{
    /// <summary>A class that is filled, drawn as a line, or both.</summary>
    /// <param name="Fill">Token of its fill; null for none.</param>
    /// <param name="Line">Token of its line; null for none.</param>
    /// <param name="Width">Width of the line in units.</param>
    public sealed record Shape(string? Fill, string? Line = null, float Width = 0)
    {
        /// <summary>Round ends and corners.</summary>
        public bool IsRound { get; init; }

        /// <summary>Lengths of dash and gap; null for a whole line.</summary>
        public float[]? Dash { get; init; }
    }

    /// <summary>Height of words in units.</summary>
    public const float TextHeight = 14;

    /// <summary>Width of the paper around words with a halo, as a line through their edge.</summary>
    public const float HaloWidth = 5;

    private const string Tokens = "FermentWatch.Service.Dashboard.Assets.tokens.css";
    private const string Font = "FermentWatch.Service.Dashboard.Pictures.Fonts.DejaVuSansCondensed.ttf";

    private static readonly Dictionary<string, SKColor> Colors = ReadColors();

    private static readonly Dictionary<string, Shape> Shapes = new()
    {
        ["grid"] = new(null, "rule", 1),
        ["base"] = new(null, "ink", 1.5f),
        ["wash"] = new("honey"),
        ["measured"] = new(null, "line", 2.5f) { IsRound = true },
        ["future"] = new("future"),
        ["dot"] = new("future"),
        ["now"] = new(null, "ink", 1),
        ["nowpt"] = new("paper", "line", 2.5f),
        ["hand"] = new("paper", "line", 2),
        ["aside"] = new(null, "aside", 1.5f),
        ["gap"] = new(null, "aside", 1.5f) { IsRound = true, Dash = [1.5f, 4] },
        ["lead-line"] = new(null, "aside", 1),
        ["nutrient"] = new(null, "rubric", 1.5f) { Dash = [6, 4] },
        ["range"] = new(null, "ink", 1.5f),
        ["fit"] = new(null, "future", 1) { IsRound = true },
    };

    /// <summary>The typeface of the words, from inside the program: a machine without fonts draws the same.</summary>
    public static SKTypeface Typeface { get; } = ReadTypeface();

    /// <summary>A color of the pages by its token.</summary>
    public static SKColor Color(string token) => Colors[token];

    /// <summary>The look of a class.</summary>
    /// <exception cref="KeyNotFoundException">No picture of a notice uses the class.</exception>
    public static Shape Of(string cssClass) => Shapes[cssClass];

    private static Dictionary<string, SKColor> ReadColors()
    {
        using var stream = typeof(PixelLook).Assembly.GetManifestResourceStream(Tokens)!;
        using var reader = new StreamReader(stream);
        var css = reader.ReadToEnd();
        // The first block is the light one.
        return Token().Matches(css[..css.IndexOf('}', StringComparison.Ordinal)]).ToDictionary(match => match.Groups[1].Value, match => SKColor.Parse(match.Groups[2].Value));
    }

    private static SKTypeface ReadTypeface()
    {
        using var stream = typeof(PixelLook).Assembly.GetManifestResourceStream(Font)!;
        return SKTypeface.FromStream(stream) ?? throw new InvalidOperationException("The font inside the program cannot be read.");
    }

    [GeneratedRegex("--([a-z-]+): (#[0-9a-f]{6});")]
    private static partial Regex Token();
}
