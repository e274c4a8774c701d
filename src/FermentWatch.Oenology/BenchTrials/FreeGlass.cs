using System.Collections.Immutable;
using System.Text.Json.Serialization;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>What was done to a free glass.</summary>
[JsonConverter(typeof(JsonStringEnumConverter<FreeGlassAct>))]
public enum FreeGlassAct
{
    /// <summary>Stock was added, in grams.</summary>
    Addition,

    /// <summary>A sip was taken, in milliliters.</summary>
    Sip,

    /// <summary>Plain wine was added, in milliliters: dilution rescues an overshot glass.</summary>
    Dilution,
}

/// <summary>One line of the ledger.</summary>
/// <param name="Act">What.</param>
/// <param name="Factor">Place of the additive in the trial's list, for an addition; 0 otherwise.</param>
/// <param name="Amount">Stock in grams, or wine in milliliters.</param>
/// <param name="Note">Words, such as how it tasted.</param>
public sealed record FreeGlassEntry(FreeGlassAct Act, int Factor, double Amount, string Note = "");

/// <summary>What is in the glass after a line.</summary>
/// <param name="Milliliters">Volume. [mL]</param>
/// <param name="GramsPerLiter">Active part of each additive, in the order of the trial's factors. [g/L]</param>
public sealed record FreeGlassState(double Milliliters, ImmutableArray<double> GramsPerLiter);

/// <summary>One glass that grows, with a ledger of additions and sips so that its dose can be computed at any time.</summary>
/// <param name="StartMilliliters">Plain wine at the start. [mL]</param>
/// <param name="Entries">The ledger.</param>
public sealed record FreeGlass(double StartMilliliters, ImmutableArray<FreeGlassEntry> Entries)
{
    /// <summary>The glass after every line; the first is the plain wine.</summary>
    /// <param name="stocks">Stocks in the order of the trial's factors.</param>
    /// <remarks><b>Equation.</b> An addition of m g stock adds w·m g and m/ρ mL; a sip takes volume and additive in proportion, so the
    /// concentration stays. <b>Check.</b> FreeGlassTests.</remarks>
    public ImmutableArray<FreeGlassState> States(IReadOnlyList<StockRecipe> stocks)
    {
        ArgumentNullException.ThrowIfNull(stocks);
        var volume = StartMilliliters;
        var grams = new double[stocks.Count];
        var states = new List<FreeGlassState> { State() };
        foreach (var entry in Entries)
        {
            switch (entry.Act)
            {
                case FreeGlassAct.Addition:
                    grams[entry.Factor] += entry.Amount * stocks[entry.Factor].ActiveMassFraction;
                    volume += entry.Amount / stocks[entry.Factor].GramsPerMilliliter;
                    break;
                case FreeGlassAct.Sip:
                    var left = (volume - entry.Amount) / volume;
                    grams = [.. grams.Select(gram => gram * left)];
                    volume -= entry.Amount;
                    break;
                default:
                    volume += entry.Amount;
                    break;
            }

            states.Add(State());
        }

        return [.. states];

        FreeGlassState State() => new(volume, [.. grams.Select(gram => 1000 * gram / volume)]);
    }

    /// <summary>Stock that raises one additive by a step. [g]</summary>
    /// <param name="state">The glass before.</param>
    /// <param name="stock">Stock of the additive.</param>
    /// <param name="factor">Place of the additive in the trial's list.</param>
    /// <param name="stepGramsPerLiter">Step above 0, so that the dose stays below the stock's own strength. [g/L]</param>
    /// <remarks><b>Equation.</b> m = s·V/(1000·w − (c + s)/ρ), V in mL: the glass grows by what is added. <b>Check.</b> FreeGlassTests.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">The step is not above 0, or the stock is too weak for it.</exception>
    public static double StockForStep(FreeGlassState state, StockRecipe stock, int factor, double stepGramsPerLiter)
    {
        ArgumentNullException.ThrowIfNull(state);
        ArgumentNullException.ThrowIfNull(stock);
        var wanted = state.GramsPerLiter[factor] + QuantityRange.Require(stepGramsPerLiter, 1e-6, 300, "step", "g/L");
        QuantityRange.Require(wanted, 0, 0.95 * stock.ActiveGramsPerLiter, "dose wanted from this stock", "g/L");
        return stepGramsPerLiter * state.Milliliters / ((1000 * stock.ActiveMassFraction) - (wanted / stock.GramsPerMilliliter));
    }

    /// <summary>The glass after one more line.</summary>
    /// <exception cref="ArgumentOutOfRangeException">An amount outside 0.001 to 1000, an unknown factor, or a sip that would empty the glass.</exception>
    public FreeGlass With(FreeGlassEntry entry, IReadOnlyList<StockRecipe> stocks)
    {
        ArgumentNullException.ThrowIfNull(entry);
        ArgumentNullException.ThrowIfNull(stocks);
        QuantityRange.Require(entry.Amount, 0.001, 1000, "amount", entry.Act is FreeGlassAct.Addition ? "g" : "mL");
        QuantityRange.Require(entry.Factor, 0, stocks.Count - 1, "factor", "(place in the list)");
        if (entry.Act is FreeGlassAct.Sip)
        {
            QuantityRange.Require(entry.Amount, 0.001, Math.Max(0.001, States(stocks)[^1].Milliliters - 1), "sip", "mL");
        }

        return this with { Entries = Entries.Add(entry) };
    }
}
