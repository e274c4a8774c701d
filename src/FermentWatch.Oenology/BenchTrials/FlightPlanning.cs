using System.Collections.Immutable;
using FermentWatch.Oenology.Tasting;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>Turns doses into coded glasses with their mixing and their serving orders.</summary>
internal static class FlightPlanning
{
    /// <summary>Glasses of the first flight, control and twin counted.</summary>
    public static int GlassesOf(TrialRequest request) => request.Kind is TrialPlanKind.FreeGlass
        ? 1
        : 1 + Combinations(request).Count + (request.WithTwin ? 1 : 0);

    /// <summary>Combinations of the first flight without the control.</summary>
    public static List<ImmutableArray<double>> Combinations(TrialRequest request)
    {
        IEnumerable<ImmutableArray<double>> combinations = [[]];
        foreach (var factor in request.Factors)
        {
            combinations = combinations.SelectMany(before => factor.DosesGramsPerLiter.Select(dose => before.Add(dose))).ToList();
        }

        return [.. combinations.Where(doses => doses.Any(dose => dose > 0))];
    }

    /// <summary>A flight of a control, these combinations and, if wanted, a twin of one of them.</summary>
    public static TrialFlight Flight(
        TrialRequest request,
        ImmutableArray<StockRecipe> stocks,
        int number,
        IReadOnlyList<ImmutableArray<double>> combinations,
        IEnumerable<string> takenCodes)
    {
        var seed = unchecked((request.Seed * 1000003) + number);
        var draw = new SeededDraw(seed);
        var hasTwin = request.WithTwin && combinations.Count > 0 && combinations.Count + 2 <= ServingOrders.MostGlasses;
        var twinOf = hasTwin ? draw.Below(combinations.Count) : -1;
        var codes = GlassCodes.Draw(combinations.Count + 2, seed, takenCodes);
        var added = AddedMilliliters(request, stocks, combinations);

        var nothing = request.Factors.Select(_ => 0.0).ToImmutableArray();
        var glasses = new List<TrialGlass> { Glass(request, stocks, codes[0], GlassRole.Control, nothing, added, isDouble: false) };
        glasses.AddRange(combinations.Select((doses, index) =>
            Glass(request, stocks, codes[index + 1], GlassRole.Dose, doses, added, index == twinOf)));
        if (hasTwin)
        {
            var original = glasses[twinOf + 1];
            glasses.Add(new TrialGlass(codes[^1], GlassRole.Twin, original.DosesGramsPerLiter, original.AchievedGramsPerLiter, original.Code, null));
        }

        var serving = glasses.Count >= 2 ? ServingOrders.Draw(glasses.Count, request.Tasters.Length, seed) : null;
        return new TrialFlight(number, [.. glasses], serving, []);
    }

    // The same added volume in every glass: the largest stock of the flight, up to a mark of the cylinder.
    private static double[] AddedMilliliters(TrialRequest request, ImmutableArray<StockRecipe> stocks, IReadOnlyList<ImmutableArray<double>> combinations) =>
    [
        .. stocks.Select((stock, factor) =>
        {
            var largest = combinations.Select(doses => doses[factor]).DefaultIfEmpty(0).Max();
            var step = request.Equipment.CylinderDivisionMilliliters;
            return Math.Min(step * Math.Ceiling(stock.GramsFor(largest, request.GlassMilliliters) / stock.GramsPerMilliliter / step), request.GlassMilliliters / stocks.Length);
        }),
    ];

    private static TrialGlass Glass(
        TrialRequest request,
        ImmutableArray<StockRecipe> stocks,
        string code,
        GlassRole role,
        ImmutableArray<double> doses,
        double[] added,
        bool isDouble)
    {
        var times = isDouble ? 2 : 1;
        var total = request.GlassMilliliters * times;
        var pours = stocks.Select((stock, factor) => Pour(request, stock, doses[factor], total, times * added[factor])).ToImmutableArray();
        var achieved = pours.Zip(stocks, (pour, stock) =>
            1000 * (pour.Unit == "g" ? pour.Amount.Taken : pour.Amount.Taken * stock.GramsPerMilliliter) * stock.ActiveMassFraction / total);
        var wine = RoundedAmount.Of(Math.Max(0, total - (times * added.Sum())), request.Equipment.CylinderDivisionMilliliters);
        return new TrialGlass(code, role, doses, [.. achieved], null, new GlassMix(total, wine, pours));
    }

    private static StockPour Pour(TrialRequest request, StockRecipe stock, double dose, double total, double added)
    {
        var equipment = request.Equipment;
        var grams = stock.GramsFor(dose, total);
        var scale = equipment.Method is DosingMethod.WeighedByDifference ? StockPlanning.DosingScale(equipment, grams) : null;
        var isWeighed = scale is not null;
        var amount = scale is not null
            ? RoundedAmount.Of(grams, scale.DivisionGrams)
            : RoundedAmount.Of(grams / stock.GramsPerMilliliter, equipment.Syringe.DivisionMilliliters);
        var milliliters = isWeighed ? amount.Taken / stock.GramsPerMilliliter : amount.Taken;
        var topUp = RoundedAmount.Of(Math.Max(0, added - milliliters), equipment.Syringe.DivisionMilliliters);
        return new StockPour(stock.AdditiveCode, amount, isWeighed ? "g" : "mL", milliliters, topUp, stock.Liquid);
    }
}
