using System.Globalization;
using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Limits;

namespace FermentWatch.Oenology.Restart;

/// <summary>The steps of a plan in words, each with its amounts.</summary>
internal static class RestartSteps
{
    private const string Practice = " (common practice, no source)";

    public static IEnumerable<RestartStep> Of(StoppedFerment ferment, double alcohol, MassBalanceResult balance, StopCause cause, DoublingStarter? starter)
    {
        yield return Sourced("sugar-test", cause is StopCause.PerhapsFinished
            ? Text($"First test for sugar: by the balance {balance.SugarLeft.Value.GramsPerLiter:0} ± {balance.SugarLeft.Tolerance:0} g/L are left, so it may be finished. Below 4 g/L it counts as dry; strips that see only glucose miss the fructose that is left at the end (published).")
            : Text($"Test for sugar and measure a degassed sample twice, 24 h apart: by the balance about {balance.SugarLeft.Value.GramsPerLiter:0} ± {balance.SugarLeft.Tolerance:0} g/L are left at {alcohol:0.0} ± 0.5 % vol. A ferment that still moves needs no restart (published)."));
        if (starter is null)
        {
            yield return ferment.Sorbate
                ? Sourced("no-restart", "No restart: with sorbate in the wine no yeast multiplies (published). Keep it sweet and stable, or blend it.")
                : Common("no-restart", Text($"No restart: at {alcohol:0.0} % vol hardly any yeast goes on; keep it sweet and stable, blend or dilute it."));
            yield break;
        }

        if (ferment.FreeSulfite is { } free && cause is StopCause.Sulfite)
        {
            yield return Common("sulfite", Text($"Free sulfite is {free.MilligramsPerLiter:0} mg/L: splash-rack once and wait two days, then measure again; go on below 15 mg/L."));
        }

        yield return Common("degas", "Degas: stir gently from the bottom, three times in a day, with headspace; never pour powder into gassy wine.");
        foreach (var step in Temperature(ferment.Temperature.Celsius))
        {
            yield return step;
        }

        yield return Acidity(ferment);
        if (ferment.Tolerance is { } tolerance && alcohol >= tolerance.Percent - 0.5)
        {
            yield return Common("strain", Text($"Take a yeast that bears more: this one is said to bear {tolerance.Percent:0.#} % vol, and {alcohol:0.0} are there."));
        }

        yield return Common("rack", Text($"Rack off the lees, and stir in 0.25 g/L of yeast hulls, {0.25 * ferment.Volume.Liters:0.0} g: they bind what holds yeast back."));
        yield return Common("rehydrate", Text($"Wake {starter.YeastGrams:0.0} g of dry yeast (0.5 g/L) in {starter.RehydrationMilliliters:0} mL of water at 35 to 40 °C for 20 min, with organic yeast food but no inorganic nitrogen."));
        yield return Common("starter", Text($"Pour it into {Math.Max(0, starter.FirstLiters - (starter.RehydrationMilliliters / 1000)):0.00} L of water at 25 °C with {starter.FirstSugarGrams:0} g of sugar, {starter.FirstLiters:0.00} L in all, within 10 °C of each other; wait until it foams, 6 to 12 h."));
        for (var i = 0; i < starter.WineLiters.Count; i++)
        {
            yield return Common(
                Text($"double-{i + 1}"),
                Text($"Doubling {i + 1}: add {starter.WineLiters[i]:0.00} L of the stuck wine; the starter then has {alcohol * starter.AlcoholShares[i]:0.0} % vol besides what it makes. Go on when its sugar has halved, after 12 to 24 h."));
        }

        yield return Common("join", Text($"Pour the {starter.FinalLiters:0.0} L of starter and the rest of the wine together, at 20 to 22 °C and within 5 °C of each other. Its water thins the batch by {100 * starter.FirstLiters / (ferment.Volume.Liters + starter.FirstLiters):0.0} %."));
        yield return Nutrient(ferment, alcohol);
        yield return Common("watch", "Measure gravity every day. It should fall within 48 h; when it has not moved in 5 days, do not pour more yeast after it: keep it sweet and stable, or blend it.");
    }

    private static IEnumerable<RestartStep> Temperature(double celsius)
    {
        if (celsius > 22)
        {
            yield return celsius > RestartPlan.HotCelsius
                ? Sourced("temperature", Text($"Cool from {celsius:0.0} °C to 20 to 22 °C: above about 34 °C yeast dies within hours (published)."))
                : Common("temperature", Text($"Cool from {celsius:0.0} °C to 20 to 22 °C."));
        }
        else if (celsius < 20)
        {
            yield return Common("temperature", Text($"Warm from {celsius:0.0} °C to 20 to 22 °C, by at most 3 °C a day, {Math.Max(1, Math.Ceiling((20 - celsius) / 3)):0} d; never with hot water on cold glass."));
        }
        else
        {
            yield return Common("temperature", Text($"Keep it at 20 to 22 °C; it has {celsius:0.0} °C."));
        }
    }

    private static RestartStep Acidity(StoppedFerment ferment)
    {
        if (ferment.Ph is not { } ph)
        {
            return Common("ph", "Measure pH: a restart wants 3.2 or more.");
        }

        if (ph.Value >= RestartPlan.LowestPh)
        {
            return Common("ph", Text($"pH {ph.Value:0.00} needs nothing: a restart wants 3.2 or more."));
        }

        var grams = 0.25 * ferment.Volume.Liters;
        return Common("ph", Text($"Raise pH {ph.Value:0.00} above 3.2 with potassium bicarbonate: {grams:0.0} g (0.25 g/L) dissolved and stirred in slowly, since it foams; wait 2 h, measure, and repeat, {GuardRailGrams(ferment):0.0} g at most in all. Mead moves fast: half of it there."));
    }

    private static double GuardRailGrams(StoppedFerment ferment) =>
        AdditiveRules.Of(Additive.PotassiumBicarbonate).Recommended!.Highest.GramsIn(ferment.Volume);

    private static RestartStep Nutrient(StoppedFerment ferment, double alcohol)
    {
        var organic = Text($"Give organic yeast food of autolyzed yeast, 0.3 g/L, {0.3 * ferment.Volume.Liters:0.0} g, when it ferments again");
        return alcohol >= RestartPlan.InorganicNitrogenEndsPercent
            ? Common("nutrient", Text($"{organic}. No inorganic nitrogen: past 9 % vol yeast hardly takes it up, and what stays feeds bacteria."))
            : Common("nutrient", Text($"{organic}; inorganic nitrogen only while the batch is below 9 % vol, at most 0.1 g/L of diammonium phosphate, {0.1 * ferment.Volume.Liters:0.0} g, within the limit for all of it."));
    }

    private static RestartStep Common(string code, string text) => new(code, text.TrimEnd('.') + Practice + ".", false);

    private static RestartStep Sourced(string code, string text) => new(code, text, true);

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
