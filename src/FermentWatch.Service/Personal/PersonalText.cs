using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Personal;

/// <summary>The words about people's own notices, from <c>Texts/Personal.resx</c>.</summary>
public static class PersonalText
{
    private static readonly TextSource Source = new("Personal");

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="System.Resources.MissingManifestResourceException">No such key.</exception>
    public static string Of(string key, params object[] values) => Source.Of(key, values);
}
