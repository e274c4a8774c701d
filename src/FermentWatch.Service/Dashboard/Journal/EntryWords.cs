using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Journal;

/// <summary>An entry as the journal shows it.</summary>
internal static class EntryWords
{
    /// <summary>'Racked: 18.5 L, still fermenting. Onto clean glass'.</summary>
    public static string Of(JournalEntry entry) => FieldWords.Kind(JournalCatalog.Of(entry.Kind)) + Rest(entry);

    /// <summary>': 18.5 L, still fermenting. Onto clean glass'; empty where there is no more to say.</summary>
    public static string Rest(JournalEntry entry)
    {
        var values = FieldWords.Values(entry);
        // An entry of another writer than the form has its gravity alone; a corrected one shows what the correction made of it.
        if (entry.Gravity is { } gravity && (entry.Number("gravity") is not { } shown || Figures.Gravity(shown) != Figures.Gravity(gravity)))
        {
            var corrected = Figures.Gravity(gravity) + Figures.NoBreak + "SG";
            values = values.Length == 0 ? corrected : JournalText.Of("value-corrected", values, corrected);
        }

        return (values.Length, entry.Text.Length) switch
        {
            (0, 0) => "",
            (0, _) => ": " + entry.Text,
            (_, 0) => ": " + values,
            _ => ": " + values + ". " + entry.Text,
        };
    }
}
