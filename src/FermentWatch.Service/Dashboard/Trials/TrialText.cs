using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Dashboard.Trials;

/// <summary>The words of the bench trials, from <c>Texts/Trials.resx</c>.</summary>
public static class TrialText
{
    private static readonly TextSource Source = new("Trials");

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="System.Resources.MissingManifestResourceException">No such key.</exception>
    public static string Of(string key, params object[] values) => Source.Of(key, values);

    /// <summary>Whether there is such a text.</summary>
    public static bool Has(string key) => Source.Find(key) is not null;
}
