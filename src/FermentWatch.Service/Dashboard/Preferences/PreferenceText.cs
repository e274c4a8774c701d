using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Dashboard.Preferences;

/// <summary>The words of the preferences, from <c>Texts/Preferences.resx</c>.</summary>
public static class PreferenceText
{
    private static readonly TextSource Source = new("Preferences");

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="System.Resources.MissingManifestResourceException">No such key.</exception>
    public static string Of(string key, params object[] values) => Source.Of(key, values);
}
