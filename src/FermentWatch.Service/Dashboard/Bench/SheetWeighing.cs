using System.Globalization;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Bench;

/// <summary>A computed mass as the user's scale can weigh it: rounded once, visibly.</summary>
/// <param name="Computed">What the arithmetic asks for. [g]</param>
/// <param name="Taken">The amount to weigh; null where it is less than one step of the scale. [g]</param>
/// <param name="Step">The scale's step. [g]</param>
internal sealed record SheetWeighing(double Computed, double? Taken, double Step)
{
    private const double GramsPerKilogram = 1000;

    /// <summary>The weighing of a result; null where it is no mass, or where the sheet rounds by its own field for the scale.</summary>
    public static SheetWeighing? Of(Worksheet sheet, WorksheetResult result, PreferenceSet set)
    {
        if (result is not NumberResult { Value: > 0 } number || sheet.Inputs.Any(input => input.Key == "scale-step"))
        {
            return null;
        }

        var grams = number.Number.Kind == QuantityKind.Mass ? number.Value : number.Number.Kind == QuantityKind.LargeMass ? number.Value * GramsPerKilogram : 0;
        return grams > 0 ? Of(grams, set) : null;
    }

    /// <summary>The weighing of an amount in grams, on the scale that carries it.</summary>
    public static SheetWeighing Of(double grams, PreferenceSet set)
    {
        var step = (double)(grams <= PreferenceSet.BenchScaleGrams ? set.BenchScale : set.KitchenScale) / 1000;
        var amount = RoundedAmount.Of(grams, step);
        return new SheetWeighing(grams, amount.Shown is null ? null : amount.Taken, step);
    }

    /// <summary>The amount to weigh with its unit; null where there is none.</summary>
    public string? Amount(Reader reader) => Taken is { } grams ? Mass(grams, reader) : null;

    /// <summary>Computed amount, step and achieved dose, in one or two sentences.</summary>
    /// <param name="liters">Volume of the sheet; null where it has none.</param>
    /// <param name="reader">The reader.</param>
    public string Beside(double? liters, Reader reader)
    {
        var (computed, step) = (Exact(reader), Mass(Step, reader));
        if (Taken is not { } taken)
        {
            return BenchText.Of("below-step", computed, step);
        }

        if (Math.Abs(taken - Computed) < Computed * 1e-9)
        {
            return BenchText.Of("exact", computed);
        }

        var share = reader.Number(100 * taken / Computed, "0.#");
        var achieved = liters is > 0
            ? BenchText.Of("achieved-dose", share, reader.Number(taken / liters.Value, taken / liters.Value < 1 ? "0.000" : "0.00") + Figures.NoBreak + "g/L", reader.Volume(liters.Value))
            : BenchText.Of("achieved", share);
        return BenchText.Of("computed", computed, step) + " " + achieved;
    }

    // One digit more than the scale shows, so that the rounding can be seen.
    private string Exact(Reader reader) => Text(Computed, Math.Max(0, (int)Math.Ceiling(-Math.Log10(Step))) + 1, reader);

    private string Mass(double grams, Reader reader) => Text(grams, Math.Max(0, (int)Math.Ceiling(-Math.Log10(Step) - 1e-9)), reader);

    private static string Text(double grams, int digits, Reader reader) => reader.Units.Mass == MassUnit.Ounces
        ? reader.Number(grams / Units.GramsPerOunce, "F" + (digits + 2).ToString(CultureInfo.InvariantCulture)) + Figures.NoBreak + "oz"
        : reader.Number(grams, "F" + digits.ToString(CultureInfo.InvariantCulture)) + Figures.NoBreak + "g";
}
