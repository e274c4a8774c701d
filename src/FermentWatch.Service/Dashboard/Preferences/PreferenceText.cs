using System.Globalization;
using System.Resources;

namespace FermentWatch.Service.Dashboard.Preferences;

/// <summary>The words of the preferences, from <c>Texts/Preferences.resx</c>.</summary>
public static class PreferenceText
{
    private static readonly ResourceManager Source = new("FermentWatch.Service.Texts.Preferences", typeof(PreferenceText).Assembly);

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="MissingManifestResourceException">No such key.</exception>
    public static string Of(string key, params object[] values) => string.Format(
        CultureInfo.InvariantCulture,
        Source.GetString(key, CultureInfo.InvariantCulture) ?? throw new MissingManifestResourceException($"Texts/Preferences.resx has no text '{key}'."),
        values);
}
