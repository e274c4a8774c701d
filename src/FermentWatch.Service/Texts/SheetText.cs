using System.Collections.Concurrent;
using System.Globalization;
using System.Resources;

namespace FermentWatch.Service.Texts;

/// <summary>Words of the worksheets, of cautions and of sentences beside results, which stand in English in the library: their translations, from <c>Texts/Worksheets.CODE.resx</c>, where the English text is the key.</summary>
internal static class SheetText
{
    // Names of resources know no case, and a part of a sentence may be a label as well: 'sorbic acid', 'Sorbic acid'.
    private const string Part = "… ";

    private static readonly ResourceManager Files = new("FermentWatch.Service.Texts.Worksheets", typeof(SheetText).Assembly) { IgnoreCase = false };

    private static readonly ConcurrentDictionary<string, ResourceSet?> Sets = new(StringComparer.Ordinal);

    /// <summary>The text in the language that is being spoken; English where there is no translation. Values are not put in.</summary>
    public static string Of(string english)
    {
        var language = Language.Present;
        var text = Find(english, language) ?? english;
        return language.Change is null || text.Length == 0 ? text : language.Change(text);
    }

    /// <summary>The translation, or null where there is none. English has no file.</summary>
    internal static string? Find(string english, Language language) => english.Length == 0 || language.Culture.Equals(CultureInfo.InvariantCulture)
        ? null
        : Sets.GetOrAdd(language.Code, static code => Files.GetResourceSet(CultureInfo.GetCultureInfo(code), createIfNotExists: true, tryParents: false))?.GetString(Key(english));

    /// <summary>The name under which a text stands in the files.</summary>
    internal static string Key(string english) => char.IsLower(english[0]) ? Part + english : english;
}
