using System.Globalization;
using System.Resources;

namespace FermentWatch.Service.Dashboard.InOut;

/// <summary>The words of import, export, channels and work on a vessel, from <c>Texts/InOut.resx</c>.</summary>
internal static class InOutText
{
    private static readonly ResourceManager Source = new("FermentWatch.Service.Texts.InOut", typeof(InOutText).Assembly);

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="MissingManifestResourceException">No such key.</exception>
    public static string Of(string key, params object[] values) => string.Format(
        CultureInfo.InvariantCulture,
        Source.GetString(key, CultureInfo.InvariantCulture) ?? throw new MissingManifestResourceException($"Texts/InOut.resx has no text '{key}'."),
        values);

    /// <summary>Whether there is such a text.</summary>
    public static bool Knows(string key) => Source.GetString(key, CultureInfo.InvariantCulture) is not null;
}
