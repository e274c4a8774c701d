using System.Globalization;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Dashboard.Journal;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Bench;

/// <summary>A way to write a worksheet's result into a journal: the kind of entry, what the reader is told, and the form's address.</summary>
/// <param name="Kind">Kind of the entry.</param>
/// <param name="Words">'Tannin added: 2.3 g, tannin powder'.</param>
/// <param name="Query">The part of the form's address behind the question mark.</param>
internal sealed record SheetRecording(JournalKindEntry Kind, string Words, string Query)
{
    /// <summary>What the result of a sheet can be written down as; empty where it can't, or where nothing came out.</summary>
    public static IReadOnlyList<SheetRecording> Of(SheetState state, PreferenceSet set, Reader reader)
    {
        if (state.Answer is not { Results.Count: > 0, IsRefusal: false } answer || SheetRecordCatalog.Find(state.Sheet.Name) is not { Nothing: null } record)
        {
            return [];
        }

        var filled = FilledWords.Written(FilledWords.OfSheet(state.Sheet, answer));
        var numbers = Numbers(state, answer);
        var made = record.Offers
            .Select(offer => (offer.Kind, Values: offer.Values(numbers), IsWeighed: offer.Weighed is not null && !RoundsItself(state.Sheet)))
            .Where(one => one.Values is not null)
            .Select(one => Made(JournalCatalog.Of(one.Kind), [.. one.Values!.Select(value => one.IsWeighed ? Weighed(JournalCatalog.Of(one.Kind), value, set) : value)], filled, reader))
            .ToList();
        if (!record.Offers.Any(offer => offer.Kind == JournalKind.Note))
        {
            made.Add(Made(JournalCatalog.Of(JournalKind.Note), [], filled, reader));
        }

        return made;
    }

    /// <summary>What was typed and what came out, by keys.</summary>
    internal static SheetNumbers Numbers(SheetState state, WorksheetAnswer answer) => new(
        key => answer.Results.FirstOrDefault(result => result.Output.Key == key) switch
        {
            NumberResult number => number.Value,
            NumberListResult { Values.Count: > 0 } list => list.Values[0],
            _ => null,
        },
        key => state.Kept(key) is { } kept && double.TryParse(kept.Split(';')[0], NumberStyles.Float, CultureInfo.InvariantCulture, out var given) ? given : null,
        state.Kept);

    private static bool RoundsItself(Worksheet sheet) => sheet.Inputs.Any(input => input.Key == "scale-step");

    private static SheetRecording Made(JournalKindEntry kind, IReadOnlyList<JournalValue> values, string filled, Reader reader)
    {
        var entry = new JournalEntry(0, kind.Kind, default, "", null, null, Undone: false) { Values = Monitoring.Telemetry.ValueList.Of(values) };
        var shown = FieldWords.Values(entry, reader);
        var words = FieldWords.Kind(kind);
        var query = new List<string> { "kind=" + kind.Key };
        query.AddRange(values.Select(value => value.Field + "=" + Uri.EscapeDataString(value.Word ?? Typed(kind, value, reader))));
        query.Add("filled=" + Uri.EscapeDataString(filled));
        return new SheetRecording(kind, shown.Length > 0 ? BenchText.Of("record-as", words, shown) : kind.Kind == JournalKind.Note ? BenchText.Of("record-note") : words, string.Join('&', query));
    }

    private static string Typed(JournalKindEntry kind, JournalValue value, Reader reader) =>
        kind.Field(value.Field) is { } field ? reader.FieldText(value.Number ?? 0, field.Unit, field.Digits) : "";

    // What is written down is what the scale showed, not what the arithmetic asked for.
    private static JournalValue Weighed(JournalKindEntry kind, JournalValue value, PreferenceSet set) => (kind.Field(value.Field)?.Unit, value.Number) switch
    {
        ("g", { } grams) => value with { Number = SheetWeighing.Of(grams, set).Taken ?? grams },
        ("kg", { } kilograms) => value with { Number = (SheetWeighing.Of(kilograms * 1000, set).Taken ?? (kilograms * 1000)) / 1000 },
        _ => value,
    };
}
