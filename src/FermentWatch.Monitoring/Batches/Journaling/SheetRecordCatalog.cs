using System.Collections.Frozen;
using FermentWatch.Monitoring.Telemetry;
using static FermentWatch.Monitoring.Batches.Journaling.SheetOffers;

namespace FermentWatch.Monitoring.Batches.Journaling;

/// <summary>What becomes of each worksheet's result in the journal. A worksheet without a line here fails a test.</summary>
public static class SheetRecordCatalog
{
    /// <summary>The lines, in the order of a batch's life.</summary>
    public static ValueList<SheetRecord> All { get; } = ValueList.Of<SheetRecord>(
        SheetRecord.None("alcohol-from-gravity", "computed-by-itself"),
        SheetRecord.Of("gravity-scales", MeasuredGravity),
        SheetRecord.Of("hydrometer-correction", ReadGravity),
        SheetRecord.None("hydrometer-reading", "before-measuring"),
        SheetRecord.None("potential-alcohol", "outlook"),
        SheetRecord.None("dry-extract", "computed-from-book"),
        SheetRecord.Note("refractometer-in-ferment"),
        SheetRecord.None("step-feeding", "from-the-book"),
        SheetRecord.Note("mass-loss"),
        SheetRecord.None("must-from-sweetener", "new-batch"),
        SheetRecord.Of("must-correction", MustSugar, MustWater),
        SheetRecord.None("honey-water", "of-a-product"),
        SheetRecord.None("juice-sugar", "of-a-product"),
        SheetRecord.Of("nutrient-marks", SaltPlan, OrganicPlan),
        SheetRecord.None("fermentation-heat", "outlook"),
        SheetRecord.Of("sweeten", Sweetening("sweetener-mass")),
        SheetRecord.Note("unfermentable-sweetener"),
        SheetRecord.None("sweetness-word", "of-the-label"),
        SheetRecord.Of("blend-wines", Blended),
        SheetRecord.Note("pearson-square"),
        SheetRecord.Of("dilute-overshoot", Topped("base-volume", "untreated wine")),
        SheetRecord.Of("sulfite-before-inoculation", Sulfite("powder")),
        SheetRecord.None("trial-stock", "for-the-bench"),
        SheetRecord.Of("trial-scale-up", ScaledTannin, ScaledAcid, ScaledSweetener),
        SheetRecord.Of("tasting-difference", new SheetOffer(JournalKind.Tasted, ValueList.Of<SheetFill>())),
        SheetRecord.None("taste-threshold", "of-a-person"),
        SheetRecord.Of("acid-before-inoculation", Acid),
        SheetRecord.None("honey-acidity", "of-a-product"),
        SheetRecord.Of("molecular-sulfite", MeasuredSulfite),
        SheetRecord.Of("sulfite-dose", Sulfite("powder-first"), StabilizedBySulfite("powder-first")),
        SheetRecord.Of("sulfite-without-test-kit", Sulfite("powder-first"), StabilizedBySulfite("powder-first")),
        SheetRecord.Of("sulfite-tablets", Tablets),
        SheetRecord.Of("sulfite-stock-solution", FromStock),
        SheetRecord.None("sulfite-total", "from-the-book"),
        SheetRecord.Of("sorbate", StabilizedBySorbate),
        SheetRecord.Of("titratable-acidity", MeasuredAcidity),
        SheetRecord.Of("acid-addition", Acid),
        SheetRecord.Of("acid-blend", BlendedAcid),
        SheetRecord.Note("deacidification"),
        SheetRecord.None("malolactic-conversion", "outlook"),
        SheetRecord.Of("acid-dilution", Watered),
        SheetRecord.None("suppleness-index", "computed-from-book"),
        SheetRecord.None("additive-limits", "of-a-product"),
        SheetRecord.Of("restart-plan", Restarted),
        SheetRecord.Of("tannin-powder", FirstTannin),
        SheetRecord.Of("tannin-tea", TeaTannin),
        SheetRecord.Of("oak-chips", Oak),
        SheetRecord.None("carbon-dioxide-in-room", "of-a-room"),
        SheetRecord.None("carbonation", "outlook"),
        SheetRecord.None("refermentation-pressure", "outlook"),
        SheetRecord.Of("priming-sugar", Priming),
        SheetRecord.Of("bottle-count", BottledUp),
        SheetRecord.None("label-text", "of-the-label"));

    private static readonly FrozenDictionary<string, SheetRecord> ByName = All.ToFrozenDictionary(record => record.Sheet, StringComparer.Ordinal);

    /// <summary>The line of a worksheet, or null.</summary>
    public static SheetRecord? Find(string sheet) => ByName.GetValueOrDefault(sheet);
}
