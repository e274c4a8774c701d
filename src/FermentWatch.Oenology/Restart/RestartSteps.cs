using System.Globalization;
using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Restart;

/// <summary>The steps of a plan in words, each with its amounts.</summary>
internal static class RestartSteps
{
    public static IEnumerable<RestartStep> Of(StoppedFerment ferment, double alcohol, MassBalanceResult balance, StopCause cause, DoublingStarter? starter)
    {
        yield return Sourced("sugar-test", cause is StopCause.PerhapsFinished
            ? (Phrase)$"First test for sugar: by the balance {balance.SugarLeft.Value.GramsPerLiter:0} ± {balance.SugarLeft.Tolerance:0} g/L are left, so it may be finished. Below 4 g/L it counts as dry; strips that see only glucose miss the fructose that is left at the end (published)."
            : $"Test for sugar and measure a degassed sample twice, 24 h apart: by the balance about {balance.SugarLeft.Value.GramsPerLiter:0} ± {balance.SugarLeft.Tolerance:0} g/L are left at {alcohol:0.0} ± 0.5 % vol. A ferment that still moves needs no restart (published).");
        if (starter is null)
        {
            yield return ferment.Sorbate
                ? Sourced("no-restart", "No restart: with sorbate in the wine no yeast multiplies (published). Keep it sweet and stable, or blend it.")
                : Common("no-restart", $"No restart: at {alcohol:0.0} % vol hardly any yeast goes on; keep it sweet and stable, blend or dilute it");
            yield break;
        }

        if (ferment.FreeSulfite is { } free && cause is StopCause.Sulfite)
        {
            yield return Common("sulfite", $"Free sulfite is {free.MilligramsPerLiter:0} mg/L: splash-rack once and wait two days, then measure again; go on below 15 mg/L");
        }

        yield return Common("degas", "Degas: stir gently from the bottom, three times in a day, with headspace; never pour powder into gassy wine");
        foreach (var step in Temperature(ferment.Temperature.Celsius))
        {
            yield return step;
        }

        yield return Acidity(ferment);
        if (ferment.Tolerance is { } tolerance && alcohol >= tolerance.Percent - 0.5)
        {
            yield return Common("strain", $"Take a yeast that bears more: this one is said to bear {tolerance.Percent:0.#} % vol, and {alcohol:0.0} are there");
        }

        yield return Common("rack", $"Rack off the lees, and stir in 0.25 g/L of yeast hulls, {new Amount(0.25 * ferment.Volume.Liters, "g"):0.0}: they bind what holds yeast back");
        yield return Common("rehydrate", $"Wake {new Amount(starter.YeastGrams, "g"):0.0} of dry yeast (0.5 g/L) in {new Amount(starter.RehydrationMilliliters, "mL"):0} of water at 35 to 40 °C for 20 min, with organic yeast food but no inorganic nitrogen");
        yield return Common("starter", $"Pour it into {new Amount(Math.Max(0, starter.FirstLiters - (starter.RehydrationMilliliters / 1000)), "L"):0.00} of water at 25 °C with {new Amount(starter.FirstSugarGrams, "g"):0} of sugar, {new Amount(starter.FirstLiters, "L"):0.00} in all, within {new Amount(10, "°C", QuantityKind.TemperatureDifference):0} of each other; wait until it foams, 6 to 12 h");
        for (var i = 0; i < starter.WineLiters.Count; i++)
        {
            yield return Common(
                string.Create(CultureInfo.InvariantCulture, $"double-{i + 1}"),
                $"Doubling {i + 1}: add {new Amount(starter.WineLiters[i], "L"):0.00} of the stuck wine; the starter then has {alcohol * starter.AlcoholShares[i]:0.0} % vol besides what it makes. Go on when its sugar has halved, after 12 to 24 h");
        }

        yield return Common("join", $"Pour the {new Amount(starter.FinalLiters, "L"):0.0} of starter and the rest of the wine together, at 20 to 22 °C and within {new Amount(5, "°C", QuantityKind.TemperatureDifference):0} of each other. Its water thins the batch by {100 * starter.FirstLiters / (ferment.Volume.Liters + starter.FirstLiters):0.0} %");
        yield return Nutrient(ferment, alcohol);
        yield return Common("watch", "Measure gravity every day. It should fall within 48 h; when it has not moved in 5 days, do not pour more yeast after it: keep it sweet and stable, or blend it");
    }

    private static IEnumerable<RestartStep> Temperature(double celsius)
    {
        if (celsius > 22)
        {
            yield return celsius > RestartPlan.HotCelsius
                ? Sourced("temperature", $"Cool from {new Amount(celsius, "°C"):0.0} to 20 to 22 °C: above about 34 °C yeast dies within hours (published).")
                : Common("temperature", $"Cool from {new Amount(celsius, "°C"):0.0} to 20 to 22 °C");
        }
        else if (celsius < 20)
        {
            yield return Common("temperature", $"Warm from {new Amount(celsius, "°C"):0.0} to 20 to 22 °C, by at most {new Amount(3, "°C", QuantityKind.TemperatureDifference):0} a day, {Math.Max(1, Math.Ceiling((20 - celsius) / 3)):0} d; never with hot water on cold glass");
        }
        else
        {
            yield return Common("temperature", $"Keep it at 20 to 22 °C; it has {new Amount(celsius, "°C"):0.0}");
        }
    }

    private static RestartStep Acidity(StoppedFerment ferment)
    {
        if (ferment.Ph is not { } ph)
        {
            return Common("ph", "Measure pH: a restart wants 3.2 or more");
        }

        if (ph.Value >= RestartPlan.LowestPh)
        {
            return Common("ph", $"pH {ph.Value:0.00} needs nothing: a restart wants 3.2 or more");
        }

        var grams = 0.25 * ferment.Volume.Liters;
        return Common("ph", $"Raise pH {ph.Value:0.00} above 3.2 with potassium bicarbonate: {new Amount(grams, "g"):0.0} (0.25 g/L) dissolved and stirred in slowly, since it foams; wait 2 h, measure, and repeat, {new Amount(GuardRailGrams(ferment), "g"):0.0} at most in all. Mead moves fast: half of it there");
    }

    private static double GuardRailGrams(StoppedFerment ferment) =>
        AdditiveRules.Of(Additive.PotassiumBicarbonate).Recommended!.Highest.GramsIn(ferment.Volume);

    private static RestartStep Nutrient(StoppedFerment ferment, double alcohol)
    {
        Phrase organic = $"Give organic yeast food of autolyzed yeast, 0.3 g/L, {new Amount(0.3 * ferment.Volume.Liters, "g"):0.0}, when it ferments again";
        return alcohol >= RestartPlan.InorganicNitrogenEndsPercent
            ? Common("nutrient", $"{organic}. No inorganic nitrogen: past 9 % vol yeast hardly takes it up, and what stays feeds bacteria")
            : Common("nutrient", $"{organic}; inorganic nitrogen only while the batch is below 9 % vol, at most 0.1 g/L of diammonium phosphate, {new Amount(0.1 * ferment.Volume.Liters, "g"):0.0}, within the limit for all of it");
    }

    private static RestartStep Common(string code, Phrase words) => new(code, $"{words} (common practice, no source).", false);

    private static RestartStep Sourced(string code, Phrase words) => new(code, words, true);
}
