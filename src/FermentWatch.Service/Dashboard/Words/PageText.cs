using System.Globalization;
using System.Resources;
using System.Text.Encodings.Web;
using FermentWatch.Service.Texts;
using Microsoft.AspNetCore.Components;

namespace FermentWatch.Service.Dashboard.Words;

/// <summary>The words of the pages, from <c>Texts/Page.resx</c>.</summary>
public static class PageText
{
    private static readonly TextSource Source = new("Page");

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="MissingManifestResourceException">No such key.</exception>
    public static string Of(string key, params object[] values) => Source.Of(key, values);

    /// <summary>The text as HTML: the resource may hold tags, the values are encoded.</summary>
    /// <exception cref="MissingManifestResourceException">No such key.</exception>
    public static MarkupString Markup(string key, params object[] values) =>
        new(Language.Present.Joined(string.Format(
            PluralForms.Present,
            Find(key),
            [.. values.Select(value => (object)Encode(Convert.ToString(value, CultureInfo.InvariantCulture) ?? ""))])));

    /// <summary>The text <c>key-one</c> or <c>key-many</c>, by the number, which is the first value.</summary>
    public static string Counted(string key, long number, params object[] values) =>
        Of(Language.Present.CountsAsOne(number) ? key + "-one" : key + "-many", [Figures.Count(number), .. values]);

    /// <summary>Encodes for HTML and SVG, leaving letters of any script as they are.</summary>
    public static string Encode(string text) => Encoder.Encode(text);

    private static readonly HtmlEncoder Encoder = HtmlEncoder.Create(System.Text.Unicode.UnicodeRanges.All);

    /// <summary>The text under a key as it stands, or null.</summary>
    public static string? Maybe(string key) => Source.Find(key);

    private static string Find(string key) =>
        Source.Find(key) ?? throw new MissingManifestResourceException($"Texts/Page.resx has no text '{key}'.");
}
