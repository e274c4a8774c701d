using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Nutrients;

/// <summary>One addition: when, by sugar and by clock, and how much.</summary>
/// <param name="Code">Its name: onset, climb, swell, third.</param>
/// <param name="SugarConsumed">Share of the sugar that is gone by then, 0 to 1/3.</param>
/// <param name="Gravity">Gravity at which that is so: what a monitor watches for.</param>
/// <param name="Hours">Hours after inoculation, for a batch without gravity readings.</param>
/// <param name="InorganicGrams">Diammonium phosphate. [g]</param>
/// <param name="OrganicGrams">Organic nutrient. [g]</param>
public sealed record NutrientMark(string Code, double SugarConsumed, SpecificGravity Gravity, double Hours, double InorganicGrams, double OrganicGrams);

/// <summary>Nutrients in parts, all of them before a third of the sugar is gone.</summary>
/// <param name="Marks">Additions still to come, the first of them now if its moment has passed.</param>
/// <param name="InorganicIsLate">Whether inorganic nitrogen came too late and was left out.</param>
public sealed record NutrientPlan(IReadOnlyList<NutrientMark> Marks, bool InorganicIsLate)
{
    private static readonly string[] Codes = ["onset", "climb", "swell", "third"];

    /// <summary>Spreads grams over marks.</summary>
    /// <param name="original">Original gravity.</param>
    /// <param name="present">Gravity now; the original before inoculation.</param>
    /// <param name="parts">1 to 4.</param>
    /// <param name="hoursBetween">Hours from mark to mark on the clock, 6 to 96.</param>
    /// <param name="inorganicGrams">Diammonium phosphate in all. [g]</param>
    /// <param name="organicGrams">Organic nutrient in all. [g]</param>
    /// <remarks>
    /// <para><b>Rule.</b> Marks stand evenly from 0 to a third of the sugar: with four at 0, 1/9, 2/9 and 1/3; a single one at 0. Past marks are
    /// dropped and their share spread over those to come. Past a third, or past 9 % vol, nothing inorganic is given and what is organic
    /// is given at once. A mark whose gravity lies past 9 % vol carries nothing inorganic.</para>
    /// <para><b>Valid.</b> Original 1.030 to 1.175. <b>Error.</b> A mark's gravity 0.003.</para>
    /// <para><b>Source.</b> Start and a third: read; 9 % vol [Bisson1999] from memory; even spacing our own. <b>Check.</b> NutrientTests.</para>
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">Parts or hours outside these, or a negative mass.</exception>
    public static NutrientPlan For(SpecificGravity original, SpecificGravity present, int parts, double hoursBetween, double inorganicGrams, double organicGrams)
    {
        QuantityRange.Require(parts, 1, 4, "parts", string.Empty);
        QuantityRange.Require(hoursBetween, 6, 96, "time between marks", "h");
        QuantityRange.Require(inorganicGrams, 0, 1e6, "diammonium phosphate", "g");
        QuantityRange.Require(organicGrams, 0, 1e6, "organic nutrient", "g");
        var gone = SugarConsumed.Of(original, present).Value;
        var isLate = gone > DiammoniumPhosphate.LatestShare + 1e-9 || IsStrong(original, present);
        if (isLate)
        {
            return new([new NutrientMark("now", gone, present, 0, 0, organicGrams)], true);
        }

        var shares = Enumerable.Range(0, parts).Select(place => parts == 1 ? 0 : place * DiammoniumPhosphate.LatestShare / (parts - 1)).ToList();
        var first = shares.FindLastIndex(share => share <= gone + 1e-9);
        var marks = new List<NutrientMark>();
        for (var place = first; place < parts; place++)
        {
            var gravity = place == first ? present : SugarConsumed.GravityAt(original, shares[place]).Value;
            marks.Add(new(Codes[place], place == first ? gone : shares[place], gravity, (place - first) * hoursBetween, 0, organicGrams / (parts - first)));
        }

        var open = marks.Where(mark => !IsStrong(original, mark.Gravity)).ToList();
        return new([.. marks.Select(mark => open.Contains(mark) ? mark with { InorganicGrams = inorganicGrams / open.Count } : mark)], false);
    }

    private static bool IsStrong(SpecificGravity original, SpecificGravity present) =>
        MassBalance.Of(original, present).Alcohol.Value.Percent > DiammoniumPhosphate.LatestAlcoholPercent;
}
