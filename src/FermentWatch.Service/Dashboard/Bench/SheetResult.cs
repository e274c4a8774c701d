using System.Globalization;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Bench;

/// <summary>A result in the reader's units.</summary>
/// <param name="Label">What it is.</param>
/// <param name="Amount">Number with unit; null for words and lists.</param>
/// <param name="Error">The stated error with unit, or null.</param>
/// <param name="IsBeyond">Whether the inputs were beyond the range of the source.</param>
/// <param name="Lines">Lines of words; empty for a number.</param>
internal sealed record SheetResult(string Label, string? Amount, string? Error, bool IsBeyond, IReadOnlyList<string> Lines)
{
    /// <summary>Writes a result of the catalogue for a reader.</summary>
    public static SheetResult Of(WorksheetResult result, Reader reader) => result switch
    {
        NumberResult number => OfNumber(number, reader),
        NumberListResult list => new(PhraseWords.Of(list.Output.Label, reader), null, null, false, [string.Join("; ", list.Values.Select(value => Number(list.Numbers.Kind, list.Numbers.Digits, value, reader))) + Sign(list.Numbers.Kind, reader)]),
        TextResult text => new(PhraseWords.Of(text.Output.Label, reader), null, null, false, [.. text.Words.Select(line => PhraseWords.Of(WithoutNumber(line), reader))]),
        _ => throw new ArgumentOutOfRangeException(nameof(result)),
    };

    // The page numbers its steps itself.
    private static Phrase WithoutNumber(Phrase line) => line is { Template: "{0}. {1}", Values: [_, { Value: Phrase step }] } ? step : line;

    private static SheetResult OfNumber(NumberResult result, Reader reader)
    {
        var (kind, digits) = (result.Number.Kind, result.Number.Digits);
        var sign = Sign(kind, reader);
        string? error = null;
        if (result.Tolerance is { } tolerance)
        {
            var unit = SheetUnit.Of(kind, reader.Units);
            var half = unit.Error(result.Value, tolerance);
            error = "±" + Figures.NoBreak + reader.Marked(StatedError.Text(half, Math.Max(0, digits + unit.MoreDigits))) + sign;
        }

        return new(PhraseWords.Of(result.Output.Label, reader), Number(kind, digits, result.Value, reader) + sign, error, result.Validity is Validity.Extrapolated, []);
    }

    private static string Number(QuantityKind kind, int digits, double kept, Reader reader)
    {
        var unit = SheetUnit.Of(kind, reader.Units);
        return reader.Number(unit.Unit.FromKept(kept), "F" + Math.Max(0, digits + unit.MoreDigits).ToString(CultureInfo.InvariantCulture));
    }

    private static string Sign(QuantityKind kind, Reader reader) =>
        SheetUnit.Of(kind, reader.Units).Symbol is { Length: > 0 } symbol && symbol != "SG" ? Figures.NoBreak + symbol : string.Empty;
}
