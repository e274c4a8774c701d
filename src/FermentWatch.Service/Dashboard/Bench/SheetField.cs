using System.Globalization;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Bench;

/// <summary>A field of a worksheet as it stands on the page.</summary>
/// <param name="Input">The field of the catalogue.</param>
/// <param name="Typed">What stands in it, in the reader's unit and with the reader's decimal mark.</param>
/// <param name="Hint">Where the value came from, and the range.</param>
/// <param name="Fault">What is wrong with it; null for nothing.</param>
public sealed record SheetField(WorksheetInput Input, string Typed, string Hint, string? Fault);

/// <summary>Reads a field that was typed in the reader's units, and writes one.</summary>
public static class SheetFields
{
    private const string RoundTrip = "0.######";

    /// <summary>A kept value as the reader types it.</summary>
    public static string Typed(QuantityKind kind, double kept, Reader reader)
    {
        var unit = SheetUnit.Of(kind, reader.Units);
        var shown = unit.Unit.FromKept(kept);
        return reader.Number(unit.Symbol == kind.Symbol ? shown : Math.Round(shown, Math.Max(0, kind.SmallestStep + unit.MoreDigits)), RoundTrip);
    }

    // Gravity is read with three decimals: '0.970', not '0.97'.
    private static string Limit(QuantityKind kind, double kept, Reader reader) =>
        SheetUnit.Of(kind, reader.Units) is { Symbol: "SG" } unit ? reader.Number(unit.Unit.FromKept(kept), "0.000") : Typed(kind, kept, reader);

    /// <summary>The range of a field in the reader's unit, in words; empty for a choice.</summary>
    public static string Range(WorksheetInput input, Reader reader) => input switch
    {
        NumberInput number => BenchText.Of("range", Limit(number.Kind, number.Low, reader), Joined(Limit(number.Kind, number.High, reader), SheetUnit.Of(number.Kind, reader.Units).Symbol)),
        NumberListInput list => BenchText.Of("range-list", list.Fewest, list.Most, Limit(list.Kind, list.Low, reader), Joined(Limit(list.Kind, list.High, reader), SheetUnit.Of(list.Kind, reader.Units).Symbol)),
        _ => string.Empty,
    };

    /// <summary>What was typed as the text that the worksheet reads, or the sentence that says what would be right.</summary>
    /// <returns>Both null when nothing was typed.</returns>
    public static (string? Text, string? Fault) Read(WorksheetInput input, string typed, Reader reader)
    {
        if (string.IsNullOrWhiteSpace(typed))
        {
            return (null, null);
        }

        return input switch
        {
            NumberInput number => ReadOne(number.Kind, typed, number.Low, number.High, reader) is { } kept
                ? (Invariant(kept), null)
                : (null, BenchText.Of("fault", PhraseWords.Of(number.Label, reader), Short(typed), Range(number, reader))),
            NumberListInput list => ReadList(list, typed, reader),
            _ => (typed, null),
        };
    }

    private static (string? Text, string? Fault) ReadList(NumberListInput list, string typed, Reader reader)
    {
        var read = typed.Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)
            .Select(part => ReadOne(list.Kind, part, list.Low, list.High, reader))
            .ToList();
        return read.Count >= list.Fewest && read.Count <= list.Most && read.TrueForAll(one => one is not null)
            ? (string.Join(';', read.Select(one => Invariant(one!.Value))), null)
            : (null, BenchText.Of("fault", PhraseWords.Of(list.Label, reader), Short(typed), Range(list, reader)));
    }

    private static double? ReadOne(QuantityKind kind, string typed, double low, double high, Reader reader)
    {
        double kept;
        if (TypedNumber.TryRead(typed, reader.Units.Mark, out var number, out _))
        {
            try
            {
                kept = SheetUnit.Of(kind, reader.Units).Unit.ToKept(number);
            }
            catch (ArgumentOutOfRangeException)
            {
                return null;
            }
        }
        else if (!kind.TryRead(reader.Units.Mark == DecimalMark.Comma ? typed.Replace(',', '.') : typed, out kept))
        {
            // A unit written behind the number is taken at its word.
            return null;
        }

        // A limit that was rounded for the reader's unit is still inside.
        var slack = (high - low) * 1e-5;
        return kept >= low - slack && kept <= high + slack ? Math.Clamp(kept, low, high) : null;
    }

    private static string Invariant(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    private static string Joined(string number, string symbol) => symbol.Length > 0 ? number + Figures.NoBreak + symbol : number;

    private static string Short(string typed) => typed.Length > 40 ? typed[..40] + "…" : typed;
}
