using System.Globalization;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Dashboard.Bench;
using FermentWatch.Service.Dashboard.Trials;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Journal;

/// <summary>What the house itself writes into an entry, from a worksheet or a bench trial: kept as key and values, shown in the reader's language and units.</summary>
internal static class FilledWords
{
    private const string Sheet = "sheet/";
    private const string Trial = "trial/";
    private const int MostValues = 20;
    private static readonly string[] TrialKeys = ["journal-sample", "journal-scale", "journal-scale-note", "journal-jars"];

    /// <summary>The results of a worksheet that are numbers.</summary>
    public static FilledText OfSheet(Worksheet sheet, WorksheetAnswer answer) => new(
        Sheet + sheet.Name,
        ValueList.Of(answer.Results.OfType<NumberResult>().Take(MostValues).Select(result => new FilledValue(result.Number.Key, result.Value, result.Number.Digits, null))),
        0);

    /// <summary>A text of the trials: its values are counts and grams, and codes that the trials have words for.</summary>
    public static FilledText OfTrial(string key, params FilledValue[] values) => new(Trial + key, ValueList.Of<FilledValue>(values), 0);

    /// <summary>The draft with these words as its text, and with what they were made of.</summary>
    public static (string Text, FilledText? Filled) Begun(FilledText filled, Reader reader) => Of(filled, reader) is { } words ? (words, filled with { Length = words.Length }) : ("", null);

    /// <summary>The words alone; null where there are none for the key or for a value, as after a worksheet changed.</summary>
    public static string? Of(FilledText filled, Reader reader)
    {
        var words = filled.Key.StartsWith(Sheet, StringComparison.Ordinal) ? OfSheet(filled, reader) : OfTrial(filled, reader);
        return words is { Length: > JournalForm.LongestText } ? words[..(JournalForm.LongestText - 1)] + "…" : words?.Trim();
    }

    /// <summary>The text of an entry as a reader sees it.</summary>
    public static string Text(JournalEntry entry, Reader reader) => entry.Filled is { } filled ? Text(entry.Text, filled, reader) : entry.Text;

    /// <summary>A text that begins with words of the house.</summary>
    public static string Text(string text, FilledText filled, Reader reader) =>
        filled.Length >= 0 && filled.Length <= text.Length && Of(filled, reader) is { } words ? words + text[filled.Length..] : text;

    /// <summary>What a sent text still has of the words that a form began with; null where the maker changed them.</summary>
    public static FilledText? Kept(string text, string written, Reader reader) =>
        Read(written) is { } filled && Of(filled, reader) is { Length: > 0 } words && text.StartsWith(words, StringComparison.Ordinal) ? filled with { Length = words.Length } : null;

    /// <summary>Key and values on one line, for an address or a hidden field.</summary>
    public static string Written(FilledText filled) => string.Join(';', filled.Values
        .Select(value => value.Number is { } number ? string.Create(CultureInfo.InvariantCulture, $"{value.Name}~{number:R}~{value.Digits}") : value.Name + "~" + value.Word)
        .Prepend(filled.Key));

    /// <summary>Reads such a line, which anybody may have written; null where it is none.</summary>
    public static FilledText? Read(string line)
    {
        var parts = line.Split(';');
        var values = new List<FilledValue>();
        foreach (var part in parts.Skip(1))
        {
            if (Value(part.Split('~')) is not { } value)
            {
                return null;
            }

            values.Add(value);
        }

        return line.Length > 0 && values.Count <= MostValues ? new FilledText(parts[0], ValueList.Of<FilledValue>(values), 0) : null;
    }

    private static FilledValue? Value(string[] parts) => parts switch
    {
        [var name, var word] => new FilledValue(name, null, 0, word),
        [var name, var text, var digits] when double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number)
            && int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out var shown) && shown <= 9 => new FilledValue(name, number, shown, null),
        _ => null,
    };

    private static string? OfSheet(FilledText filled, Reader reader)
    {
        if (WorksheetCatalog.Find(filled.Key[Sheet.Length..]) is not { } sheet)
        {
            return null;
        }

        var parts = new List<string>();
        foreach (var value in filled.Values)
        {
            if (value.Number is not { } number || sheet.Outputs.OfType<NumberOutput>().FirstOrDefault(output => output.Key == value.Name) is not { } output)
            {
                return null;
            }

            var result = SheetResult.Of((output with { Digits = value.Digits }).Is(number), reader);
            parts.Add(BenchText.Of("record-part", result.Label, result.Amount!));
        }

        return BenchText.Of("record-text", PhraseWords.Of(sheet.Title, reader), string.Join("; ", parts));
    }

    private static string? OfTrial(FilledText filled, Reader reader)
    {
        var key = filled.Key.StartsWith(Trial, StringComparison.Ordinal) ? filled.Key[Trial.Length..] : "";
        var values = filled.Values.Select(value => TrialValue(value, reader)).ToList();
        return TrialKeys.Contains(key) && values.Count is 1 or 2 && !values.Contains(null) ? TrialText.Of(key, [.. values.OfType<object>(), "", ""]) : null;
    }

    private static string? TrialValue(FilledValue value, Reader reader) => value switch
    {
        { Number: { } number } => reader.Number(number, "F" + value.Digits.ToString(CultureInfo.InvariantCulture)),
        { Word: { } word } when TrialText.Has(value.Name + "-" + word) => TrialText.Of(value.Name + "-" + word),
        _ => null,
    };
}
