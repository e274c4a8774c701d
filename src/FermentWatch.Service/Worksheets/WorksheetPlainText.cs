using System.Globalization;
using System.Text;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Service.Worksheets;

/// <summary>Worksheets for the terminal.</summary>
internal static class WorksheetPlainText
{
    /// <summary>Names and titles, by subject.</summary>
    public static string Catalog()
    {
        var text = new StringBuilder();
        var width = WorksheetCatalog.All.Max(sheet => sheet.Name.Length);
        foreach (var subject in WorksheetCatalog.All.GroupBy(sheet => sheet.Subject).OrderBy(group => group.Key))
        {
            text.AppendLine(CultureInfo.InvariantCulture, $"{Words(subject.Key)}");
            foreach (var sheet in subject)
            {
                text.AppendLine(CultureInfo.InvariantCulture, $"  {sheet.Name.PadRight(width)}  {sheet.Title}");
            }
        }

        return text.AppendLine().AppendLine("fermentwatch worksheet NAME shows the fields of one; with key=value ... it computes.").ToString();
    }

    /// <summary>Purpose, fields, examples and sources of one.</summary>
    public static string Entry(Worksheet sheet)
    {
        var text = new StringBuilder().AppendLine(sheet.Title).AppendLine(sheet.Purpose).AppendLine().AppendLine("Fields:");
        var width = sheet.Inputs.Select(input => input.Key.Length).DefaultIfEmpty(0).Max();
        foreach (var input in sheet.Inputs)
        {
            var usual = input.UsualText is { } value ? $" Default {value}." : input.IsOptional ? " May be left out." : string.Empty;
            text.AppendLine(CultureInfo.InvariantCulture, $"  {input.Key.PadRight(width)}  {input.Label}: {input.Allowed}.{usual}{(input.Help is { } help ? " " + help : string.Empty)}");
        }

        text.AppendLine().AppendLine("Examples:");
        foreach (var example in sheet.Examples)
        {
            text.AppendLine(CultureInfo.InvariantCulture, $"  fermentwatch worksheet {sheet.Name} {string.Join(' ', example.Given.Select(field => Typed(field.Key, field.Value)))}");
        }

        AppendEnd(text, sheet);
        return text.ToString();
    }

    /// <summary>Results with units and errors, then what to mind.</summary>
    public static string Answer(Worksheet sheet, WorksheetAnswer answer)
    {
        var text = new StringBuilder().AppendLine(sheet.Title);
        var width = answer.Results.Select(result => result.Output.Label.Length).DefaultIfEmpty(0).Max();
        foreach (var result in answer.Results)
        {
            var lines = Lines(result);
            text.AppendLine(CultureInfo.InvariantCulture, $"  {result.Output.Label.PadRight(width)}  {(lines.Count > 0 ? lines[0] : string.Empty)}");
            foreach (var line in lines.Skip(1))
            {
                text.AppendLine(CultureInfo.InvariantCulture, $"  {string.Empty.PadRight(width)}  {line}");
            }
        }

        foreach (var notice in answer.Notices)
        {
            text.AppendLine(CultureInfo.InvariantCulture, $"{Weight(notice.Weight)}: {notice.Text}");
        }

        AppendEnd(text, sheet);
        return text.ToString();
    }

    private static void AppendEnd(StringBuilder text, Worksheet sheet)
    {
        foreach (var caution in sheet.Cautions)
        {
            text.AppendLine().AppendLine(CultureInfo.InvariantCulture, $"CAUTION: {caution.Text}");
        }

        text.AppendLine().AppendLine("Sources:");
        foreach (var source in sheet.Sources)
        {
            text.AppendLine(CultureInfo.InvariantCulture, $"  {Standing(source)}: {source.Text}");
        }
    }

    private static IReadOnlyList<string> Lines(WorksheetResult result) => result switch
    {
        NumberResult number => [Number(number)],
        NumberListResult list => [string.Join("; ", list.Values.Select(value => Digits(value, list.Numbers.Digits))) + Unit(list.Numbers.Kind)],
        TextResult text => text.Lines,
        _ => [],
    };

    private static string Number(NumberResult result) =>
        Digits(result.Value, result.Number.Digits)
        + (result.Tolerance is { } tolerance ? " ± " + StatedError.Text(tolerance, result.Number.Digits) : string.Empty)
        + Unit(result.Number.Kind)
        + (result.Validity is Validity.Extrapolated ? " (beyond the range of the source)" : string.Empty);

    private static string Digits(double value, int digits) => value.ToString("F" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    private static string Unit(QuantityKind kind) => kind.Symbol.Length > 0 ? " " + kind.Symbol : string.Empty;

    private static string Typed(string key, string value) => value.Any(char.IsWhiteSpace) || value.Contains(';', StringComparison.Ordinal) ? $"'{key}={value}'" : $"{key}={value}";

    private static string Weight(NoticeWeight weight) => weight switch
    {
        NoticeWeight.Refusal => "No",
        NoticeWeight.Warning => "Mind",
        _ => "Note",
    };

    private static string Standing(WorksheetSource source) => source.Standing switch
    {
        SourceStanding.Published => $"[{source.Key}]",
        SourceStanding.Computed => "computed",
        SourceStanding.CommonPractice => "common practice, no source",
        _ => "from memory",
    };

    private static string Words(WorksheetSubject subject) => subject switch
    {
        WorksheetSubject.Gravity => "Gravity, sugar, alcohol",
        WorksheetSubject.Restart => "A ferment that has stopped",
        WorksheetSubject.Tasting => "Trials and tasting",
        WorksheetSubject.CarbonDioxide => "Carbon dioxide",
        _ => subject.ToString(),
    };
}
