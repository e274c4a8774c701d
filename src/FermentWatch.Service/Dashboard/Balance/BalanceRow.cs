using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Pictures;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Balance;

/// <summary>How a part of a wine is known.</summary>
internal enum BalanceState
{
    /// <summary>Nothing tells.</summary>
    Unknown = 0,

    /// <summary>From other figures or from what was added.</summary>
    Computed = 1,

    /// <summary>By hand or by a sensor.</summary>
    Measured = 2,
}

/// <summary>One part of the balance of a wine.</summary>
/// <param name="Part">alcohol, water, sugar, acid or tannin.</param>
/// <param name="State">How it is known.</param>
/// <param name="Value">How much, with unit; empty where unknown.</param>
/// <param name="From">Where that comes from, or what would tell it.</param>
/// <param name="Worksheet">Name of the worksheet that helps on; null for none.</param>
internal sealed record BalanceRow(string Part, BalanceState State, string Value, string From, string? Worksheet)
{
    // Grams of ethanol in a liter at one percent by volume: density of ethanol at 20 °C, 789.24 kg/m³ [OIML22].
    private const double EthanolGramsPerPercent = 7.8924;

    // Water at 20 °C, to which the gravity 20/20 refers [IAPWS95].
    private const double WaterGramsPerLiter = 998.2;

    /// <summary>The five parts, in the order in which the page shows them.</summary>
    /// <param name="view">The batch.</param>
    /// <param name="reader">The reader.</param>
    public static IReadOnlyList<BalanceRow> Of(BatchView view, Reader reader)
    {
        var active = JournalReading.Active(view.Journal, view.Now);
        var ledger = Ledger.Of(view.Batch, active);
        return [Alcohol(view, reader), Water(view, active, reader), Sugar(view, active, reader), Acid(active, ledger, reader), Tannin(ledger, reader)];
    }

    private static BalanceRow Alcohol(BatchView view, Reader reader) => view.Alcohol is { } alcohol
        ? new("alcohol", BalanceState.Computed, reader.Alcohol(alcohol.Value.Percent), PageText.Of("balance-by-mass", "±" + Figures.NoBreak + reader.Number(alcohol.Tolerance, "0.0") + Figures.NoBreak + "% vol"), null)
        : new("alcohol", BalanceState.Unknown, "", PageText.Of("balance-alcohol-unknown"), "alcohol-from-gravity");

    /// <summary>By difference: what a liter weighs less its alcohol and its sugar; acids, glycerol and the rest of the extract are still in it.</summary>
    private static BalanceRow Water(BatchView view, IReadOnlyList<JournalEntry> active, Reader reader)
    {
        var note = active.LastOrDefault(entry => entry.Text.Contains("water", StringComparison.OrdinalIgnoreCase) && entry.Kind is JournalKind.Note or JournalKind.ToppedUp);
        var quality = note is null ? PageText.Of("balance-water-no-note") : PageText.Of("balance-water-note", note.Text, reader.MonthDay(note.At));
        if (view.LatestGravity is not { } gravity || view.Alcohol is not { } alcohol || view.SugarLeft is not { } sugar)
        {
            return new("water", BalanceState.Unknown, "", quality, null);
        }

        var grams = (gravity.Value.Value * WaterGramsPerLiter) - (alcohol.Value.Percent * EthanolGramsPerPercent) - Math.Max(0, sugar.Value.GramsPerLiter);
        return new("water", BalanceState.Computed, PageText.Of("balance-water", Figures.Whole(Math.Round(grams / 10) * 10)), quality, null);
    }

    private static BalanceRow Sugar(BatchView view, IReadOnlyList<JournalEntry> active, Reader reader)
    {
        if (Newest(active, "sugar-test", view.LatestGravity?.At) is { } test)
        {
            return new("sugar", BalanceState.Measured, Figures.GramsPerLiter(test.Number), PageText.Of("balance-measured", reader.MonthDay(test.At)), "sweetness-word");
        }

        if (view.SugarLeft is not { } left)
        {
            return new("sugar", BalanceState.Unknown, "", PageText.Of("balance-sugar-unknown"), null);
        }

        return left.Value.GramsPerLiter < CurveScale.TooLittleToTell(view)
            ? new("sugar", BalanceState.Unknown, PageText.Of("sugar-under", Figures.GramsPerLiter(Math.Ceiling(CurveScale.TooLittleToTell(view)))), PageText.Of("balance-sugar-little"), null)
            : new("sugar", BalanceState.Computed, Figures.GramsPerLiter(left.Value.GramsPerLiter), PageText.Of("balance-by-mass", Figures.WholeTolerance(left.Tolerance)), "sweeten");
    }

    private static BalanceRow Acid(IReadOnlyList<JournalEntry> active, Ledger ledger, Reader reader)
    {
        var added = PerLiter(ledger, JournalKind.AcidAdded);
        if (Newest(active, "total-acid", null) is { } total)
        {
            var ph = Newest(active, "ph", null);
            var value = Dissolved(total.Number, reader) + (ph is { } one ? ", pH" + Figures.NoBreak + reader.Number(one.Number, "0.00") : "");
            return new("acid", BalanceState.Measured, value, PageText.Of("balance-measured-tartaric", reader.MonthDay(total.At)), "acid-addition");
        }

        if (Newest(active, "ph", null) is { } known)
        {
            return new("acid", BalanceState.Measured, "pH" + Figures.NoBreak + reader.Number(known.Number, "0.00"), PageText.Of("balance-acid-ph-alone", reader.MonthDay(known.At)), "titratable-acidity");
        }

        return added > 0
            ? new("acid", BalanceState.Unknown, "", PageText.Of("balance-acid-added", Dissolved(added, reader)), "titratable-acidity")
            : new("acid", BalanceState.Unknown, "", PageText.Of("balance-acid-unknown"), "titratable-acidity");
    }

    private static BalanceRow Tannin(Ledger ledger, Reader reader)
    {
        var added = PerLiter(ledger, JournalKind.TanninAdded);
        return added > 0
            ? new("tannin", BalanceState.Computed, Dissolved(added, reader), PageText.Of("balance-tannin-added"), "tannin-powder")
            : new("tannin", BalanceState.Unknown, "", PageText.Of("balance-tannin-unknown"), "tannin-powder");
    }

    /// <summary>The newest number under a field, not older than a moment by more than a day.</summary>
    private static (double Number, EventTime At)? Newest(IReadOnlyList<JournalEntry> active, string field, EventTime? notBefore) =>
        active.LastOrDefault(entry => entry.Number(field) is not null && (notBefore is not { } since || entry.At >= since - TimeSpan.FromDays(1))) is { } entry
            ? (entry.Number(field)!.Value, entry.At)
            : null;

    private static double PerLiter(Ledger ledger, JournalKind kind) => ledger.Lines.Where(line => line.Kind == kind).Sum(line => line.PerLiter ?? 0);

    private static string Dissolved(double gramsPerLiter, Reader reader) => reader.Number(gramsPerLiter, gramsPerLiter < 1 ? "0.00" : "0.0") + Figures.NoBreak + "g/L";
}
