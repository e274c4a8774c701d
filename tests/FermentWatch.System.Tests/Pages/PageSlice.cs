using System.Globalization;
using FermentWatch.Service.Texts;
using Microsoft.Playwright;

namespace FermentWatch.System.Tests.Pages;

/// <summary>
/// Which part of the whole matrix a run looks at. Without anything said: 390 px, both themes, English, the first stops of the keyboard.
/// FERMENTWATCH_PAGES=all looks at 320, 390, 768 and 1280 px and FERMENTWATCH_PAGES=320,768 at those, at every stop of the keyboard;
/// FERMENTWATCH_PAGES_THEMES=dark and FERMENTWATCH_PAGES_LANGUAGES=de,fr name the rest, FERMENTWATCH_PAGES_PROGRESS a file that each finished part is written to.
/// </summary>
/// <param name="Widths">[px]</param>
/// <param name="Themes">Color schemes.</param>
/// <param name="Languages">Codes.</param>
/// <param name="IsThorough">Every stop of the keyboard, instead of the first twenty.</param>
internal sealed record PageSlice(IReadOnlyList<int> Widths, IReadOnlyList<ColorScheme> Themes, IReadOnlyList<string> Languages, bool IsThorough)
{
    /// <exception cref="FormatException">A part has a width, theme or language that is not there.</exception>
    public static PageSlice FromEnvironment() => Of(Variable(""), Variable("_THEMES"), Variable("_LANGUAGES"));

    /// <summary>The slice that three lists name; null stands for what a run without a campaign looks at.</summary>
    /// <exception cref="FormatException">A part has a width, theme or language that is not there.</exception>
    public static PageSlice Of(string? widths, string? themes, string? languages) => new(
        widths switch { null => [390], "all" => [320, 390, 768, 1280], _ => [.. Parts(widths).Select(Width)] },
        themes is null ? [ColorScheme.Light, ColorScheme.Dark] : [.. Parts(themes).Select(Theme)],
        languages is null ? ["en"] : [.. Parts(languages).Select(LanguageCode)],
        widths is not null);

    /// <summary>Writes what a finished part found.</summary>
    public static void Tell(string line, IEnumerable<string> faults)
    {
        if (Variable("_PROGRESS") is { } file)
        {
            File.AppendAllLines(file, [line, .. faults.Select(fault => "  " + fault)]);
        }
    }

    private static string? Variable(string end) => Environment.GetEnvironmentVariable("FERMENTWATCH_PAGES" + end) is { Length: > 0 } value ? value : null;

    private static string[] Parts(string list) => list.Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);

    private static int Width(string text) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var width) && width is >= 320 and <= 4000
        ? width : throw new FormatException($"Width '{text}': expected 'all' or whole pixels from 320 to 4000.");

    private static ColorScheme Theme(string text) => text switch
    {
        "light" => ColorScheme.Light,
        "dark" => ColorScheme.Dark,
        _ => throw new FormatException($"Theme '{text}': expected light or dark."),
    };

    private static string LanguageCode(string text) => text == "qps-ploc" || Language.All.Any(language => language.Code == text)
        ? text : throw new FormatException($"Language '{text}': expected one of {string.Join(", ", Language.All.Select(language => language.Code))} or qps-ploc.");
}
