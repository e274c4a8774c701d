using System.Globalization;
using System.Resources;

namespace FermentWatch.Service.Dashboard.Journal;

/// <summary>The words of batches and the journal, from <c>Texts/Journal.resx</c>.</summary>
public static class JournalText
{
    private static readonly ResourceManager Source = new("FermentWatch.Service.Texts.Journal", typeof(JournalText).Assembly);

    /// <summary>The text with its values put in, not yet encoded for HTML.</summary>
    /// <exception cref="MissingManifestResourceException">No such key.</exception>
    public static string Of(string key, params object[] values) => string.Format(
        CultureInfo.InvariantCulture,
        Find(key) ?? throw new MissingManifestResourceException($"Texts/Journal.resx has no text '{key}'."),
        values);

    /// <summary>The text, or null where there is none.</summary>
    public static string? Find(string key) => Source.GetString(key, CultureInfo.InvariantCulture);
}
