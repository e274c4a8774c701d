using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Dashboard.InOut;

/// <summary>The words of import, export, channels and work on a vessel, from <c>Texts/InOut.resx</c>.</summary>
internal static class InOutText
{
    private static readonly TextSource Source = new("InOut");

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="System.Resources.MissingManifestResourceException">No such key.</exception>
    public static string Of(string key, params object[] values) => Source.Of(key, values);

    /// <summary>Whether there is such a text.</summary>
    public static bool Knows(string key) => Source.Find(key) is not null;
}
