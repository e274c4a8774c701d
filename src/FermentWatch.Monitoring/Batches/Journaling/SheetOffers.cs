using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches.Journaling;

/// <summary>The entries from which <see cref="SheetRecordCatalog"/> is made.</summary>
internal static class SheetOffers
{
    private const double KilogramsPerGram = 0.001;

    public static SheetOffer MeasuredGravity { get; } = Offer(
        JournalKind.MeasuredByHand, SheetFill.Result("gravity", "gravity"), SheetFill.Named("instrument", _ => InstrumentNames.DensityMeter));

    /// <summary>As it was read: the journal corrects it by itself, for the hydrometers that it knows.</summary>
    public static SheetOffer ReadGravity { get; } = Offer(
        JournalKind.MeasuredByHand,
        SheetFill.Given("gravity", "reading"), SheetFill.Given("sample-temperature", "temperature"), SheetFill.Named("instrument", numbers => InstrumentFor(numbers.Given("calibration-temperature"))))
    with
    { When = numbers => InstrumentFor(numbers.Given("calibration-temperature")) is not null };

    public static SheetOffer MustSugar { get; } = Weighed(
        JournalKind.SugarAdded, "sweetener-mass", SheetFill.Named("sweetener", Sweetener), SheetFill.Result("kilograms", "sweetener-mass"));

    public static SheetOffer MustWater { get; } = Topped("water", "water");

    public static SheetOffer SaltPlan { get; } = Weighed(
        JournalKind.NutrientPlan, "diammonium-phosphate",
        SheetFill.Result("grams", "diammonium-phosphate"), SheetFill.Given("parts", "parts"), SheetFill.Given("hours-between", "hours-between"),
        SheetFill.Named("nutrient", _ => "salts"), SheetFill.Named("product", _ => "diammonium phosphate"));

    public static SheetOffer OrganicPlan { get; } = Weighed(
        JournalKind.NutrientPlan, "organic-mass",
        SheetFill.Result("grams", "organic-mass"), SheetFill.Given("parts", "parts"), SheetFill.Given("hours-between", "hours-between"), SheetFill.Named("nutrient", _ => "organic"));

    /// <summary>What was poured beside the first wine of the list, which is this batch.</summary>
    public static SheetOffer Blended { get; } = Offer(
        JournalKind.ToppedUp, SheetFill.Of("added", numbers => numbers.Result("volume-after") - numbers.Given("volumes")), SheetFill.Named("with", _ => "other wines"));

    public static SheetOffer Watered { get; } = Offer(JournalKind.ToppedUp, SheetFill.Given("added", "water"), SheetFill.Named("with", _ => "water"));

    public static SheetOffer ScaledTannin { get; } = Weighed(
        JournalKind.TanninAdded, "first-portion", SheetFill.Of("grams", Portion), SheetFill.Named("product", _ => "tannin powder"))
    with
    { When = numbers => numbers.Chosen("additive") == "tannin" };

    public static SheetOffer ScaledAcid { get; } = Weighed(
        JournalKind.AcidAdded, "first-portion", SheetFill.Named("acid", numbers => ScaledAcidOf(numbers.Chosen("additive"))), SheetFill.Of("grams", Portion));

    public static SheetOffer ScaledSweetener { get; } = Weighed(
        JournalKind.Sweetened, "first-portion",
        SheetFill.Named("sweetener", numbers => numbers.Chosen("additive") switch { "sucrose" or "dextrose" => "sugar", "honey" => "honey", _ => null }),
        SheetFill.Of("kilograms", numbers => Portion(numbers) * KilogramsPerGram));

    public static SheetOffer Acid { get; } = Weighed(
        JournalKind.AcidAdded, "first-part", SheetFill.Named("acid", AcidOf), SheetFill.Of("grams", numbers => numbers.Result("first-part") ?? numbers.Result("mass")));

    public static SheetOffer BlendedAcid { get; } = Weighed(JournalKind.AcidAdded, "mass", SheetFill.Named("acid", _ => "blend"), SheetFill.Result("grams", "mass"));

    public static SheetOffer MeasuredSulfite { get; } = Offer(JournalKind.MeasuredByHand, SheetFill.Given("ph", "ph"), SheetFill.Given("free-sulfite", "free-sulfite"))
    with
    { When = numbers => numbers.Given("free-sulfite") is not null };

    public static SheetOffer MeasuredAcidity { get; } = Offer(JournalKind.MeasuredByHand, SheetFill.Result("total-acid", "as-tartaric"));

    public static SheetOffer Tablets { get; } = Offer(JournalKind.SulfiteAdded, SheetFill.Of("sulfite", numbers => numbers.Result("whole-tablets") * numbers.Given("tablet-mass")))
    with
    { When = IsPotassium };

    public static SheetOffer FromStock { get; } = Offer(
        JournalKind.SulfiteAdded, SheetFill.Of("sulfite", numbers => numbers.Result("stock-powder") * numbers.Result("stock-dose") / numbers.Given("stock-volume")))
    with
    { When = IsPotassium };

    public static SheetOffer StabilizedBySorbate { get; } = Weighed(JournalKind.Stabilized, "mass", SheetFill.Result("sorbate", "mass"));

    public static SheetOffer Restarted { get; } = Weighed(JournalKind.Repitched, "yeast", SheetFill.Result("grams", "yeast"));

    /// <summary>The first step of several: tannin goes in little by little.</summary>
    public static SheetOffer FirstTannin { get; } = Weighed(
        JournalKind.TanninAdded, "steps", SheetFill.Of("grams", numbers => numbers.Result("steps") ?? numbers.Result("mass")), SheetFill.Named("product", _ => "tannin powder"));

    public static SheetOffer TeaTannin { get; } = Offer(
        JournalKind.TanninAdded,
        SheetFill.Of("grams", numbers => numbers.Given("volume") * numbers.Given("tannin") / 1000), SheetFill.Named("product", _ => "black tea, tannin in it"));

    public static SheetOffer Oak { get; } = Weighed(JournalKind.OakIn, "mass", SheetFill.Result("grams", "mass"), SheetFill.Named("product", _ => "oak chips"));

    public static SheetOffer Priming { get; } = Weighed(
        JournalKind.SugarAdded, "mass", SheetFill.Named("sweetener", Sweetener), SheetFill.Result("kilograms", "mass", KilogramsPerGram));

    public static SheetOffer BottledUp { get; } = Offer(JournalKind.Bottled, SheetFill.Result("bottles", "bottles"), SheetFill.Given("fill", "bottle-size"));

    /// <summary>Sugar or honey into a stabilized wine; other sweeteners become a note.</summary>
    public static SheetOffer Sweetening(string mass) => Weighed(
        JournalKind.Sweetened, mass, SheetFill.Named("sweetener", Sweetener), SheetFill.Result("kilograms", mass, KilogramsPerGram));

    /// <summary>Potassium metabisulfite; the sodium salt becomes a note.</summary>
    public static SheetOffer Sulfite(string mass) => Weighed(JournalKind.SulfiteAdded, mass, SheetFill.Result("sulfite", mass)) with { When = IsPotassium };

    public static SheetOffer StabilizedBySulfite(string mass) => Weighed(JournalKind.Stabilized, mass, SheetFill.Result("sulfite", mass)) with { When = IsPotassium };

    public static SheetOffer Topped(string volume, string with) => Offer(JournalKind.ToppedUp, SheetFill.Result("added", volume), SheetFill.Named("with", _ => with));

    private static SheetOffer Offer(JournalKind kind, params IEnumerable<SheetFill> fills) => new(kind, ValueList.Of(fills));

    private static SheetOffer Weighed(JournalKind kind, string result, params IEnumerable<SheetFill> fills) => new(kind, ValueList.Of(fills), result);

    private static bool IsPotassium(SheetNumbers numbers) => numbers.Chosen("salt") is null or "potassium";

    private static double? Portion(SheetNumbers numbers) => numbers.Result("first-portion") ?? numbers.Result("product");

    private static string? Sweetener(SheetNumbers numbers) => numbers.Chosen("sweetener") switch
    {
        null when numbers.Result("mass") is not null => "sugar",
        "sucrose" or "dextrose" or "dextrose-monohydrate" or "dextrose-anhydrous" or "brown-sugar" => "sugar",
        "honey" => "honey",
        _ => null,
    };

    private static string? AcidOf(SheetNumbers numbers) => numbers.Chosen("acid") switch
    {
        "tartaric" => "tartaric",
        "malic" => "malic",
        "citric" or "citric-monohydrate" => "citric",
        "lactic-liquid" => "lactic",
        _ => null,
    };

    private static string? ScaledAcidOf(string? additive) => additive switch
    {
        "tartaric-acid" => "tartaric",
        "malic-acid" => "malic",
        "citric-acid" => "citric",
        "lactic-acid" => "lactic",
        _ => null,
    };

    private static string? InstrumentFor(double? calibration) => calibration switch
    {
        null => InstrumentNames.Hydrometer20,
        >= 19.95 and <= 20.05 => InstrumentNames.Hydrometer20,
        >= 15.5 and <= 15.6 => InstrumentNames.Hydrometer60F,
        >= 14.95 and <= 15.05 => InstrumentNames.Hydrometer15,
        _ => null,
    };
}
