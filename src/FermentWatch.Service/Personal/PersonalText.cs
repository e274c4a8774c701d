using System.Globalization;
using System.Resources;

namespace FermentWatch.Service.Personal;

/// <summary>The words about people's own notices, from <c>Texts/Personal.resx</c>.</summary>
public static class PersonalText
{
    private static readonly ResourceManager Source = new("FermentWatch.Service.Texts.Personal", typeof(PersonalText).Assembly);

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="MissingManifestResourceException">No such key.</exception>
    public static string Of(string key, params object[] values) => string.Format(
        CultureInfo.InvariantCulture,
        Source.GetString(key, CultureInfo.InvariantCulture) ?? throw new MissingManifestResourceException($"Texts/Personal.resx has no text '{key}'."),
        values);
}
