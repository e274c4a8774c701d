using System.Collections.Immutable;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>Chooses the strength of a stock solution so that the trial's finest step can be measured.</summary>
public static class StockPlanning
{
    // Strengths that are easy to weigh out, strongest first.
    private static readonly ImmutableArray<double> MassFractions =
        [0.5, 0.4, 0.25, 0.2, 0.1, 0.05, 0.025, 0.02, 0.01, 0.005, 0.0025, 0.002, 0.001, 0.0005, 0.00025, 0.0002, 0.0001];

    private const double WaterGramsPerMilliliter = 0.9982;

    // Where gravity is unknown: a dry wine.
    private const double DryWineGramsPerMilliliter = 0.992;

    // A stock in wine may be most of the glass; water may not thin it by more than a tenth.
    private const double LargestWineShare = 0.9;
    private const double LargestWaterShare = 0.1;
    private const double Spare = 1.2;

    // Making more stock than this only to have enough on the scale wastes wine.
    private const double LargestStockShare = 0.05;
    private const double LargestWaterMilliliters = 2000;
    private const double VesselGrams = 60;

    /// <summary>Plans the stock of one factor.</summary>
    /// <param name="request">A request without faults.</param>
    /// <param name="factor">One of its factors.</param>
    /// <param name="notices">Takes what must be said; a refusal when there is no stock.</param>
    /// <returns>The recipe, or null when the finest step can't be measured with these instruments.</returns>
    /// <remarks>
    /// <para><b>Rule.</b> The strongest stock, of strengths that are easy to weigh, with which the finest step is at least the smallest amount
    /// that can be dosed within the tolerance - <see cref="WeighingScale.SmallestWeighableGrams"/> for a weighed syringe, ½ division/tolerance
    /// for a read one - and the largest dose fits into the glass: 90 % of it for stock in wine, 10 % in water, halved for two factors.
    /// Of the stock so much is made that its product can be weighed within the tolerance; when that would be more than 5 % of the batch, a finer
    /// scale is asked for.</para>
    /// <para><b>Source.</b> [USP41] for the smallest weighable amount; the rest is a choice of this product. <b>Check.</b> StockPlanningTests.</para>
    /// </remarks>
    public static StockRecipe? Plan(TrialRequest request, TrialFactor factor, IList<BenchNotice> notices)
    {
        ArgumentNullException.ThrowIfNull(request);
        ArgumentNullException.ThrowIfNull(factor);
        ArgumentNullException.ThrowIfNull(notices);
        var liquidDensity = LiquidDensity(request.Wine, factor.Liquid);
        var limit = request.GlassMilliliters * (factor.Liquid is StockLiquid.Wine ? LargestWineShare : LargestWaterShare) / request.Factors.Length;
        var weakest = double.NaN;
        foreach (var productFraction in MassFractions.Where(fraction => fraction <= factor.Additive.HighestStockMassFraction))
        {
            var density = StockRecipe.Density(productFraction, liquidDensity, factor.Additive.MillilitersPerGram);
            var activeFraction = productFraction * factor.Additive.ActiveMassFraction;
            if (Grams(Largest(request, factor)) / density > limit)
            {
                break;
            }

            weakest = activeFraction;
            if (Grams(factor.FinestStepGramsPerLiter) >= SmallestDose(request, density, Grams(Largest(request, factor))))
            {
                return Recipe(request, factor, productFraction, liquidDensity, density, notices);
            }

            double Grams(double dose) => dose * request.GlassMilliliters / 1000 / activeFraction;
        }

        Refuse(request, factor, weakest, notices);
        return null;
    }

    /// <summary>Smallest amount of stock that can be dosed within the tolerance. [g]</summary>
    public static double SmallestDose(TrialRequest request, double stockGramsPerMilliliter, double largestGrams)
    {
        ArgumentNullException.ThrowIfNull(request);
        var equipment = request.Equipment;
        return equipment.Method is DosingMethod.SyringeReading
            ? 0.5 * equipment.Syringe.DivisionMilliliters / equipment.Tolerance * stockGramsPerMilliliter
            : DosingScale(equipment, largestGrams) is { } scale ? scale.SmallestWeighableGrams(equipment.Tolerance) : double.PositiveInfinity;
    }

    internal static WeighingScale? DosingScale(TrialEquipment equipment, double stockGrams) =>
        equipment.FinestFor(equipment.Syringe.EmptyGrams + Math.Min(stockGrams, equipment.Syringe.CapacityMilliliters * 1.3));

    internal static double LiquidDensity(BenchWine wine, StockLiquid liquid) => liquid is StockLiquid.Water
        ? WaterGramsPerMilliliter
        : wine.SpecificGravity * WaterGramsPerMilliliter ?? DryWineGramsPerMilliliter;

    internal static double Largest(TrialRequest request, TrialFactor factor) =>
        request.Kind is TrialPlanKind.BracketThenHalve or TrialPlanKind.FreeGlass ? factor.LargestGramsPerLiter : factor.DosesGramsPerLiter[^1];

    private static StockRecipe? Recipe(TrialRequest request, TrialFactor factor, double productFraction, double liquidDensity, double density, IList<BenchNotice> notices)
    {
        var equipment = request.Equipment;
        var additive = factor.Additive;
        var activeFraction = productFraction * additive.ActiveMassFraction;

        // Enough for every glass at the largest dose of its flight, flights to come counted, and enough product to be weighed within the tolerance.
        var flights = request.Kind is TrialPlanKind.BracketThenHalve ? 3 : 1;
        var needed = Spare * flights * Stocked(request, factor) * request.GlassMilliliters / 1000 / activeFraction;
        var product = productFraction * needed;
        var productScale = equipment.FinestFor(product);
        if (productScale is not null && product < productScale.SmallestWeighableGrams(equipment.Tolerance))
        {
            // Up to a whole division, so that rounding doesn't take it below again.
            product = productScale.DivisionGrams * Math.Ceiling((productScale.SmallestWeighableGrams(equipment.Tolerance) / productScale.DivisionGrams) - 1e-9);
            var milliliters = product / productFraction / density;
            if (milliliters > LargestStock(request, factor) && product / productFraction > needed)
            {
                notices.Add(BenchNotice.Refusal(
                    BenchNoticeCodes.StockNotMeasurable,
                    new NoticeValue(additive.Code, productFraction * needed, "g"),
                    new NoticeValue("smallest-weighable", product, "g"),
                    new NoticeValue("stock", milliliters, "mL"),
                    new NoticeValue("division", productFraction * needed * equipment.Tolerance / 0.82, "g")));
                return null;
            }
        }

        productScale ??= equipment.Scales.MaxBy(scale => scale.CapacityGrams)!;
        var productGrams = RoundedAmount.Of(product, productScale.DivisionGrams);
        if (productGrams.Shown is null)
        {
            Refuse(request, factor, activeFraction, notices);
            return null;
        }

        var liquid = productGrams.Taken * (1 - productFraction) / productFraction;
        var liquidScale = equipment.FinestFor(liquid + VesselGrams) ?? equipment.Scales.MaxBy(scale => scale.CapacityGrams)!;
        if (liquid + VesselGrams > liquidScale.CapacityGrams || product > productScale.CapacityGrams)
        {
            notices.Add(BenchNotice.Note(BenchNoticeCodes.OverCapacity, new NoticeValue(additive.Code, Math.Max(liquid + VesselGrams, product), "g"), new NoticeValue("capacity", liquidScale.CapacityGrams, "g")));
        }

        var liquidGrams = RoundedAmount.Of(liquid, liquidScale.DivisionGrams);
        var achieved = productGrams.Taken / (productGrams.Taken + liquidGrams.Taken);
        Say(request, factor, density, notices);
        return new StockRecipe(
            additive.Code,
            factor.Liquid,
            productGrams,
            productScale.Name,
            liquidGrams,
            liquidScale.Name,
            achieved * additive.ActiveMassFraction,
            achieved,
            StockRecipe.Density(achieved, liquidDensity, additive.MillilitersPerGram));
    }

    private static double LargestStock(TrialRequest request, TrialFactor factor) =>
        factor.Liquid is StockLiquid.Wine ? 1000 * LargestStockShare * request.Wine.VolumeLiters : LargestWaterMilliliters;

    // Sum of the doses of a flight, its twin counted at the largest.
    private static double Stocked(TrialRequest request, TrialFactor factor)
    {
        var repeats = request.Kind is TrialPlanKind.Grid ? request.Factors.Where(other => other != factor).Max(other => other.DosesGramsPerLiter.Length) : 1;
        return request.Kind is TrialPlanKind.FreeGlass
            ? factor.LargestGramsPerLiter
            : (repeats * factor.DosesGramsPerLiter.Sum()) + (request.WithTwin ? Largest(request, factor) : 0);
    }

    private static void Say(TrialRequest request, TrialFactor factor, double density, IList<BenchNotice> notices)
    {
        var equipment = request.Equipment;
        if (factor.Liquid is StockLiquid.Water)
        {
            notices.Add(BenchNotice.Warning(BenchNoticeCodes.WaterDilutes, new NoticeValue(factor.Additive.Code, 100 * LargestWaterShare / request.Factors.Length, "%")));
        }

        if (equipment.Method is DosingMethod.SyringeReading)
        {
            var milliliters = SmallestDose(request, density, 0) / density;
            notices.Add(BenchNotice.Note(BenchNoticeCodes.SyringeRead, new NoticeValue("error", 100 * equipment.Syringe.ReadingError(milliliters), "%")));
        }

        if (factor.Additive.Role is AdditiveRole.Tannin && request.Kind is not TrialPlanKind.Held)
        {
            notices.Add(BenchNotice.Warning(BenchNoticeCodes.TanninNeedsTime, new NoticeValue("lowest", HeldTrial.LowestDays, "d"), new NoticeValue("highest", HeldTrial.HighestDays, "d")));
        }

        if (factor.Additive.Role is AdditiveRole.Tannin || factor.Additive.Code == TrialAdditive.Honey.Code)
        {
            notices.Add(BenchNotice.Note(BenchNoticeCodes.DarkCups));
        }

        if (factor.Additive.Role is AdditiveRole.Deacidifier)
        {
            notices.Add(BenchNotice.Warning(BenchNoticeCodes.CarbonateFoam));
        }

        if (factor.Additive.Role is AdditiveRole.Acid)
        {
            notices.Add(BenchNotice.Note(BenchNoticeCodes.AcidBurns));
        }
    }

    private static void Refuse(TrialRequest request, TrialFactor factor, double activeFraction, IList<BenchNotice> notices)
    {
        var largest = Largest(request, factor);
        var fraction = double.IsNaN(activeFraction) ? factor.Additive.HighestStockMassFraction * factor.Additive.ActiveMassFraction : activeFraction;
        var smallest = SmallestDose(request, 1, largest * request.GlassMilliliters / 1000 / fraction);
        var step = smallest * fraction * 1000 / request.GlassMilliliters;
        notices.Add(BenchNotice.Refusal(
            BenchNoticeCodes.StepNotMeasurable,
            new NoticeValue(factor.Additive.Code, factor.FinestStepGramsPerLiter, "g/L"),
            new NoticeValue("smallest-step", step, "g/L"),
            new NoticeValue("glass-volume", request.GlassMilliliters * Math.Max(1, step / factor.FinestStepGramsPerLiter), "mL"),
            new NoticeValue("smallest-weighable", smallest, "g")));
    }
}
