using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Dashboard.Journal;

/// <summary>The words of batches and the journal, from <c>Texts/Journal.resx</c>.</summary>
public static class JournalText
{
    private static readonly TextSource Source = new("Journal");

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="System.Resources.MissingManifestResourceException">No such key.</exception>
    public static string Of(string key, params object[] values) => Source.Of(key, values);

    /// <summary>The text, or null where there is none.</summary>
    public static string? Find(string key) => Source.Find(key);
}
