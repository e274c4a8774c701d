using System.Globalization;
using System.Resources;

namespace FermentWatch.Service.Access;

/// <summary>The words about people, sign-ins and devices, from <c>Texts/Access.resx</c>.</summary>
public static class AccessText
{
    private static readonly ResourceManager Source = new("FermentWatch.Service.Texts.Access", typeof(AccessText).Assembly);

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="MissingManifestResourceException">No such key.</exception>
    public static string Of(string key, params object[] values) => string.Format(
        CultureInfo.InvariantCulture,
        Source.GetString(key, CultureInfo.InvariantCulture) ?? throw new MissingManifestResourceException($"Texts/Access.resx has no text '{key}'."),
        values);
}
