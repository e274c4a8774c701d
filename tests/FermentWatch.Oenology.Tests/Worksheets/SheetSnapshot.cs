using System.Globalization;
using System.Text;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Tests.Worksheets;

/// <summary>A worksheet as text: first its words and ranges, then its answers around each example, one field moved at a time.</summary>
internal static class SheetSnapshot
{
    // The places inside a field's range at which the sheet is asked, beside its ends.
    private static readonly double[] Places = [0, 0.1, 0.4, 1];

    public static string Of(Worksheet sheet)
    {
        var text = new StringBuilder();
        Line(text, $"{sheet.Name} | {sheet.Subject} | {sheet.Title}");
        Line(text, sheet.Purpose);
        foreach (var input in sheet.Inputs)
        {
            Line(text, $"field {input.Key} | {input.Label} | {input.Help} | {input.Allowed} | usual {input.UsualText} | {(input.IsOptional ? "optional" : "needed")}");
            foreach (var choice in (input as ChoiceInput)?.Choices ?? [])
            {
                Line(text, $"  {choice.Code} | {choice.Label}");
            }
        }

        foreach (var output in sheet.Outputs)
        {
            Line(text, $"result {output.Key} | {output.Label} | {Shape(output)}");
        }

        foreach (var source in sheet.Sources)
        {
            Line(text, $"source {source.Standing} | {source.Key} | {source.Text}");
        }

        foreach (var caution in sheet.Cautions)
        {
            Line(text, $"caution {caution.Code} | {caution.Text}");
        }

        foreach (var example in sheet.Examples)
        {
            Around(text, sheet, example);
        }

        return text.ToString();
    }

    private static void Around(StringBuilder text, Worksheet sheet, WorkedExample example)
    {
        Line(text, $"example {string.Join(' ', example.Given.Select(field => $"{field.Key}={field.Value}"))} | {example.Source}");
        Tell(text, sheet, example.Given, inFull: true);
        foreach (var input in sheet.Inputs)
        {
            foreach (var value in Values(input).Where(value => value != example.Given.GetValueOrDefault(input.Key)))
            {
                var given = new Dictionary<string, string>(example.Given, StringComparer.Ordinal);
                if (value.Length == 0 ? given.Remove(input.Key) : given.TryAdd(input.Key, value) || (given[input.Key] = value).Length > 0)
                {
                    Line(text, $"  with {input.Key}={value}");
                    Tell(text, sheet, given, inFull: false);
                }
            }
        }
    }

    private static IEnumerable<string> Values(WorksheetInput input) => input switch
    {
        NumberInput number => Places.Select(place => Number(number.Low + (place * (number.High - number.Low)), 4)).Append(""),
        NumberListInput list => [string.Join(';', Enumerable.Range(0, list.Fewest).Select(place => Number(list.Low + ((place + 1) * (list.High - list.Low) / (list.Fewest + 1)), 4))), ""],
        ChoiceInput choice => choice.Choices.Select(one => one.Code).Append(""),
        _ => [""],
    };

    private static void Tell(StringBuilder text, Worksheet sheet, IReadOnlyDictionary<string, string> given, bool inFull)
    {
        var outcome = sheet.Run(given);
        var told = outcome.Faults.Select(fault => $"fault {fault.Field}: {fault.Sentence}")
            .Concat(outcome.Answer?.Results.Select(Result) ?? [])
            .Concat(outcome.Answer?.Notices.Select(notice => $"{notice.Weight} {notice.Code}{(inFull ? ": " + notice.Text : "")}") ?? [])
            .ToList();
        var separator = inFull ? "\n    " : " | ";
        var words = string.Concat(outcome.Answer?.Notices.Select(notice => notice.Text) ?? []);
        Line(text, "    " + string.Join(separator, told) + (inFull || words.Length == 0 ? "" : $" | words {Fingerprint(words)}"));
    }

    private static string Result(WorksheetResult result) => result switch
    {
        NumberResult number => $"{number.Output.Key} {Number(number.Value, 5)}{(number.Tolerance is { } tolerance ? " ± " + Number(tolerance, 3) : "")}{(number.Validity == default ? "" : " " + number.Validity)}",
        NumberListResult list => $"{list.Output.Key} {string.Join(", ", list.Values.Select(value => Number(value, 5)))}",
        TextResult words => $"{words.Output.Key} '{string.Join(" / ", words.Lines)}'",
        _ => throw new InvalidOperationException(result.GetType().Name),
    };

    private static string Shape(WorksheetOutput output) => output switch
    {
        NumberOutput number => string.Create(CultureInfo.InvariantCulture, $"{number.Kind.Symbol}, {number.Digits} digits"),
        NumberListOutput list => string.Create(CultureInfo.InvariantCulture, $"{list.Kind.Symbol}, {list.Digits} digits, list"),
        _ => "words",
    };

    // Few enough digits that another machine's last bit does not show.
    private static string Number(double value, int digits) => value.ToString("G" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    // FNV-1a: a change of the words shows without all of them being written down at every place.
    private static string Fingerprint(string words)
    {
        var hash = 2166136261u;
        foreach (var letter in words)
        {
            hash = (hash ^ letter) * 16777619u;
        }

        return hash.ToString("x8", CultureInfo.InvariantCulture);
    }

    private static void Line(StringBuilder text, string line) => text.Append(line.TrimEnd()).Append('\n');
}
