using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Journal;

/// <summary>An entry as the journal shows it.</summary>
internal static class EntryWords
{
    /// <summary>'Racked: 18.5 L, still fermenting. Onto clean glass'.</summary>
    public static string Of(JournalEntry entry, Reader reader) => FieldWords.Kind(JournalCatalog.Of(entry.Kind)) + Rest(entry, reader);

    /// <summary>What an entry's photo shows, for whoever does not see it: the maker's words, else kind and time.</summary>
    public static string Alt(JournalEntry entry, Reader reader) => entry.Text.Length > 0
        ? JournalText.Of("photo-alt", FilledWords.Text(entry, reader))
        : JournalText.Of("photo-alt-untold", FieldWords.Kind(JournalCatalog.Of(entry.Kind)), reader.Moment(entry.At));

    /// <summary>': 18.5 L, still fermenting. Onto clean glass'; empty where there is no more to say.</summary>
    public static string Rest(JournalEntry entry, Reader reader)
    {
        var values = FieldWords.Values(entry, reader);
        // An entry of another writer than the form has its gravity alone; a corrected one shows what the correction made of it.
        if (entry.Gravity is { } gravity && (entry.Number("gravity") is not { } shown || reader.Gravity(shown) != reader.Gravity(gravity)))
        {
            var corrected = reader.Field(gravity.Value, "SG", 3);
            values = values.Length == 0 ? corrected : JournalText.Of("value-corrected", values, corrected);
        }

        var text = FilledWords.Text(entry, reader);
        return (values.Length, text.Length) switch
        {
            (0, 0) => "",
            (0, _) => ": " + text,
            (_, 0) => ": " + values,
            _ => ": " + values + ". " + text,
        };
    }
}
