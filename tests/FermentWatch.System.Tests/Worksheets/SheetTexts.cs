using System.Globalization;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.System.Tests.Worksheets;

/// <summary>Every English text of the worksheets that a reader can come to see: what stands in the entries, and what they say when each field is moved.</summary>
internal static class SheetTexts
{
    /// <summary>Texts that stand in the catalogue, with where.</summary>
    public static IEnumerable<(string Where, string Text)> Fixed() =>
        WorksheetCatalog.All.SelectMany(Of)
            .Concat(Caution.All.Select(caution => ("caution " + caution.Code, caution.Text)))
            .Concat(AdditiveRules.All.Select(rule => ("additive", rule.Name)))
            .Where(text => text.Item2.Length > 0);

    /// <summary>What one entry holds.</summary>
    public static IEnumerable<(string Where, string Text)> Of(Worksheet sheet)
    {
        yield return (sheet.Name + " title", sheet.Title);
        yield return (sheet.Name + " purpose", sheet.Purpose);
        foreach (var input in sheet.Inputs)
        {
            yield return ($"{sheet.Name}.{input.Key} label", input.Label);
            yield return ($"{sheet.Name}.{input.Key} help", input.Help ?? string.Empty);
            foreach (var choice in (input as ChoiceInput)?.Choices ?? [])
            {
                yield return ($"{sheet.Name}.{input.Key} choice", choice.Label);
            }
        }

        foreach (var output in sheet.Outputs)
        {
            yield return ($"{sheet.Name}.{output.Key} result", output.Label);
        }

        foreach (var source in sheet.Sources)
        {
            yield return (sheet.Name + " source", source.Text);
        }

        foreach (var example in sheet.Examples)
        {
            yield return (sheet.Name + " example", example.Source);
        }
    }

    /// <summary>Phrases that the examples say, as they are and with one field moved, the phrases inside them included.</summary>
    public static IEnumerable<(string Where, Phrase Phrase)> Said() => WorksheetCatalog.All.SelectMany(sheet => sheet.Examples.SelectMany(example => Around(sheet, example)));

    private static IEnumerable<(string Where, Phrase Phrase)> Around(Worksheet sheet, WorkedExample example)
    {
        var runs = new List<Dictionary<string, string>> { new(example.Given) };
        foreach (var input in sheet.Inputs)
        {
            runs.AddRange(Values(input).Select(value => new Dictionary<string, string>(example.Given) { [input.Key] = value }));
        }

        foreach (var outcome in runs.Select(sheet.Run))
        {
            var told = outcome.Faults.Select(fault => fault.Words)
                .Concat(outcome.Answer?.Notices.Select(notice => notice.Words) ?? [])
                .Concat(outcome.Answer?.Results.OfType<TextResult>().SelectMany(result => result.Words) ?? []);
            foreach (var phrase in told.SelectMany(WithParts))
            {
                yield return (sheet.Name, phrase);
            }
        }
    }

    private static IEnumerable<string> Values(WorksheetInput input) => input switch
    {
        NumberInput number => new[] { 0, 0.1, 0.4, 1 }.Select(place => (number.Low + (place * (number.High - number.Low))).ToString("G4", CultureInfo.InvariantCulture)).Append(""),
        ChoiceInput choice => choice.Choices.Select(one => one.Code).Append(""),
        _ => [""],
    };

    private static IEnumerable<Phrase> WithParts(Phrase phrase) =>
        [phrase, .. phrase.Values.Select(value => value.Value).OfType<Phrase>().SelectMany(WithParts)];
}
