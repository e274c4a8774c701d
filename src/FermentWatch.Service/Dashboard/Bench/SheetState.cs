using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Bench;

/// <summary>A worksheet as it stands on the page: what was typed, what came out, what is wrong.</summary>
/// <param name="Sheet">The entry of the catalogue.</param>
/// <param name="Fields">Its fields.</param>
/// <param name="Answer">What was computed; null while something is missing or wrong.</param>
/// <param name="Problems">Sentences of faults that belong to no single field.</param>
public sealed record SheetState(Worksheet Sheet, IReadOnlyList<SheetField> Fields, WorksheetAnswer? Answer, IReadOnlyList<string> Problems)
{
    private Dictionary<string, string> Read { get; init; } = [];

    /// <summary>What a field holds, as the worksheet reads it; the usual value where it stayed empty, null without one.</summary>
    public string? Kept(string key) => Read.TryGetValue(key, out var text) ? text : Sheet.Inputs.FirstOrDefault(input => input.Key == key)?.UsualText;

    /// <summary>Reads the address: a field that is not in it takes the batch's value, then the usual one.</summary>
    /// <param name="sheet">The entry.</param>
    /// <param name="query">The address's fields; null for one that was never sent.</param>
    /// <param name="batch">Values of the batch that the sheet is for; empty for none.</param>
    /// <param name="isSent">Whether the form was sent: a field that is still missing is then a fault.</param>
    /// <param name="reader">The reader.</param>
    /// <param name="chosen">Choices that the settings make, by key of the field; null for none.</param>
    internal static SheetState Of(Worksheet sheet, Func<string, string?> query, IReadOnlyDictionary<string, BatchValue> batch, bool isSent, Reader reader, IReadOnlyDictionary<string, string>? chosen = null)
    {
        var given = new Dictionary<string, string>(StringComparer.Ordinal);
        var fields = new List<SheetField>();
        foreach (var input in sheet.Inputs)
        {
            var (typed, from) = Shown(input, query(input.Key), batch, chosen, reader);
            var (text, fault) = SheetFields.Read(input, typed, reader);
            if (text is not null)
            {
                given[input.Key] = text;
            }

            if (isSent && fault is null && text is null && !input.IsOptional)
            {
                fault = input is ChoiceInput ? BenchText.Of("missing-choice", PhraseWords.Of(input.Label, reader)) : BenchText.Of("missing", PhraseWords.Of(input.Label, reader), SheetFields.Range(input, reader));
            }

            // What the batch filled in says where it comes from, which stands in for what to type.
            var hint = string.Join(' ', new[] { from ?? PhraseWords.Of(input.Help ?? "", reader), Sentence(input, reader) }.Where(part => !string.IsNullOrEmpty(part)));
            fields.Add(new SheetField(input, typed, hint, fault));
        }

        var isWhole = fields.TrueForAll(field => field.Fault is null) && sheet.Inputs.All(input => input.IsOptional || given.ContainsKey(input.Key));
        if (!isWhole)
        {
            return new SheetState(sheet, fields, null, []);
        }

        var outcome = sheet.Run(given);
        return new SheetState(sheet, [.. fields.Select(field => WithFault(sheet, field, outcome, reader))], outcome.Answer, []) { Read = given };
    }

    private static (string Typed, string? From) Shown(WorksheetInput input, string? sent, IReadOnlyDictionary<string, BatchValue> batch, IReadOnlyDictionary<string, string>? chosen, Reader reader)
    {
        if (sent is not null)
        {
            return (sent.Length > 200 ? sent[..200] : sent, null);
        }

        if (input is NumberInput number)
        {
            if (chosen?.GetValueOrDefault(input.Key) is { } told && number.Kind.TryRead(told, out var kept) && kept >= number.Low && kept <= number.High)
            {
                return (SheetFields.Typed(number.Kind, kept, reader), BenchText.Of("from-settings"));
            }

            return batch.TryGetValue(input.Key, out var value) && value.Kept >= number.Low && value.Kept <= number.High
                ? (SheetFields.Typed(number.Kind, value.Kept, reader), value.From)
                : (number.Usual is { } usual ? SheetFields.Typed(number.Kind, usual, reader) : string.Empty, null);
        }

        return input is ChoiceInput choice && chosen?.GetValueOrDefault(input.Key) is { } code && choice.Choices.Any(one => one.Code == code)
            ? (code, BenchText.Of("from-settings"))
            : (input.UsualText ?? string.Empty, null);
    }

    private static SheetField WithFault(Worksheet sheet, SheetField field, WorksheetOutcome outcome, Reader reader) =>
        outcome.Faults.FirstOrDefault(fault => fault.Field == field.Input.Key) is { } fault
            ? field with { Fault = PhraseWords.Of(fault.Words, reader, key => sheet.Inputs.FirstOrDefault(input => input.Key == key) is { } named ? PhraseWords.Of(named.Label, reader) : key) }
            : field;

    private static string Sentence(WorksheetInput input, Reader reader) => SheetFields.Range(input, reader) is { Length: > 0 } range
        ? BenchText.Of(input.IsOptional ? "hint-optional" : "hint", char.ToUpperInvariant(range[0]) + range[1..])
        : string.Empty;
}
