using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Access;

/// <summary>The words about people, sign-ins and devices, from <c>Texts/Access.resx</c>.</summary>
public static class AccessText
{
    private static readonly TextSource Source = new("Access");

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="System.Resources.MissingManifestResourceException">No such key.</exception>
    public static string Of(string key, params object[] values) => Source.Of(key, values);
}
