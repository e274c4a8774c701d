using System.Collections.Immutable;
using System.Text.Json.Serialization;
using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Limits;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>How a trial goes about finding the dose.</summary>
[JsonConverter(typeof(JsonStringEnumConverter<TrialPlanKind>))]
public enum TrialPlanKind
{
    /// <summary>A row of rising doses beside a control, tasted at once.</summary>
    Ladder,

    /// <summary>A few doses far apart; the answers name the next glass, halving the gap until the finest step.</summary>
    BracketThenHalve,

    /// <summary>Every combination of the doses of two factors.</summary>
    Grid,

    /// <summary>One glass that grows: add, sip, add; a ledger keeps what is in it.</summary>
    FreeGlass,

    /// <summary>Jars that stand 7 to 14 days before tasting: tannin can't be judged on the same day.</summary>
    Held,
}

/// <summary>What the stock solution is made with.</summary>
[JsonConverter(typeof(JsonStringEnumConverter<StockLiquid>))]
public enum StockLiquid
{
    /// <summary>The wine itself: nothing is thinned.</summary>
    Wine,

    /// <summary>Water: thins the glass, the control too.</summary>
    Water,
}

/// <summary>One additive of a trial with its doses.</summary>
/// <param name="Additive">What is added.</param>
/// <param name="DosesGramsPerLiter">Doses of the first flight without the control; grams of active part in a liter of the finished glass.</param>
/// <param name="FinestStepGramsPerLiter">Halving stops here; also the step that must be measurable. [g/L]</param>
/// <param name="LargestGramsPerLiter">Never beyond this. [g/L]</param>
/// <param name="Liquid">What the stock is made with.</param>
public sealed record TrialFactor(
    TrialAdditive Additive,
    ImmutableArray<double> DosesGramsPerLiter,
    double FinestStepGramsPerLiter,
    double LargestGramsPerLiter,
    StockLiquid Liquid = StockLiquid.Wine)
{
    /// <summary>A factor with up to four doses from the additive's coarse step upward and its finest step.</summary>
    /// <param name="additive">What is added.</param>
    /// <param name="doses">1 to 4.</param>
    public static TrialFactor Usual(TrialAdditive additive, int doses = 3)
    {
        ArgumentNullException.ThrowIfNull(additive);
        ImmutableArray<double> ladder = [.. Enumerable.Range(1, Math.Clamp(doses, 1, 4)).Select(step => step * additive.CoarseStepGramsPerLiter)];
        return new(additive, ladder, additive.FinestStepGramsPerLiter, 2 * ladder[^1]);
    }
}

/// <summary>Everything a trial is planned from.</summary>
/// <param name="Wine">The batch today.</param>
/// <param name="Equipment">What the maker measures with.</param>
/// <param name="Kind">How it goes about it.</param>
/// <param name="Factors">One additive, or two for a grid.</param>
/// <param name="Tasters">Names of who tastes, 1 to 20, all different.</param>
/// <param name="GlassMilliliters">Volume mixed for each code. [mL]</param>
/// <param name="PourMilliliters">Volume poured for each taster from each code. [mL]</param>
/// <param name="Seed">Decides codes, orders and the twin.</param>
/// <param name="WithTwin">Whether one glass comes twice under two codes, to show how consistent each taster is.</param>
/// <param name="StartsOn">Day on which it is poured; needed for the dates of a held trial only.</param>
/// <param name="Law">Whose limits; the strictest until one is chosen.</param>
/// <param name="Acids">Which acids the drink mostly holds, to predict pH; null for no prediction.</param>
public sealed record TrialRequest(
    BenchWine Wine,
    TrialEquipment Equipment,
    TrialPlanKind Kind,
    ImmutableArray<TrialFactor> Factors,
    ImmutableArray<string> Tasters,
    double GlassMilliliters,
    double PourMilliliters,
    long Seed,
    bool WithTwin = true,
    DateOnly? StartsOn = null,
    [property: JsonConverter(typeof(JsonStringEnumConverter<Law>))] Law Law = Law.Strictest,
    [property: JsonConverter(typeof(JsonStringEnumConverter<AcidProfile>))] AcidProfile? Acids = null);
