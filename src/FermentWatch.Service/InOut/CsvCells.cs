using System.Globalization;

namespace FermentWatch.Service.InOut;

/// <summary>Rows of comma-separated values as RFC 4180 has them, with text that no spreadsheet takes for a formula.</summary>
internal static class CsvCells
{
    private const string FormulaStarts = "=+-@\t\r";

    /// <summary>One row with its line end. Numbers must come as numbers: text that looks like a formula gets an apostrophe in front.</summary>
    public static string Row(params ReadOnlySpan<object?> cells)
    {
        var row = new System.Text.StringBuilder();
        for (var i = 0; i < cells.Length; i++)
        {
            row.Append(i == 0 ? "" : ",").Append(Cell(cells[i]));
        }

        return row.Append("\r\n").ToString();
    }

    /// <summary>Text as it was before <see cref="Row"/> put an apostrophe in front of it.</summary>
    public static string Original(string text) => text.Length > 1 && text[0] == '\'' && FormulaStarts.Contains(text[1], StringComparison.Ordinal) ? text[1..] : text;

    private static string Cell(object? value) => value switch
    {
        null => "",
        // The shortest digits that give the same number back.
        double number => number.ToString("R", CultureInfo.InvariantCulture),
        IFormattable other => other.ToString(null, CultureInfo.InvariantCulture),
        _ => Quoted(Harmless(value.ToString() ?? "")),
    };

    private static string Harmless(string text) => text.Length > 0 && FormulaStarts.Contains(text[0], StringComparison.Ordinal) ? "'" + text : text;

    private static string Quoted(string text) =>
        text.AsSpan().IndexOfAny("\",\r\n") < 0 ? text : "\"" + text.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"";
}
