using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Dashboard.Help;

/// <summary>The words about being away and about how good the alerts are, from <c>Texts/Help.resx</c>.</summary>
public static class HelpText
{
    private static readonly TextSource Source = new("Help");

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="System.Resources.MissingManifestResourceException">No such key.</exception>
    public static string Of(string key, params object[] values) => Source.Of(key, values);
}
