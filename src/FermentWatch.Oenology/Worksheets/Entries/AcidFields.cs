using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Fields that the worksheets of acid share, and what they say together.</summary>
internal static class AcidFields
{
    public static readonly NumberInput Volume = new("volume", "Volume", QuantityKind.Volume, 0.1, 10000, Help: "Measured today.");
    public static readonly NumberInput Ph = new("ph", "pH now", QuantityKind.Ph, 2.5, 4.6, Help: "Of the degassed sample, by a meter calibrated today.");
    public static readonly NumberInput Acidity = new("titratable-acidity", "Titratable acidity now, as tartaric acid", QuantityKind.AcidConcentration, 0.1, 25, Help: "Of the degassed sample: dissolved gas counts as acid.");
    public static readonly NumberInput Alcohol = new("alcohol", "Alcohol", QuantityKind.Alcohol, 0, 20, Usual: 12, Help: "0 for must.");

    public static readonly ChoiceInput<TitrationEndPoint> EndPoint = new(
        "end-point",
        "End point of the titration",
        [(TitrationEndPoint.EightPointTwo, "pH 8.2, or the pink of phenolphthalein"), (TitrationEndPoint.Seven, "pH 7.0")],
        TitrationEndPoint.EightPointTwo);

    public static readonly ChoiceInput<AcidProfile> Profile = new(
        "drink",
        "What it is",
        [
            (AcidProfile.GrapeWine, "Grape wine before malolactic conversion"),
            (AcidProfile.GrapeWineAfterMalolactic, "Grape wine after malolactic conversion"),
            (AcidProfile.GrapeMust, "Grape must"),
            (AcidProfile.Mead, "Mead or honey must"),
            (AcidProfile.MalicFruit, "Cider, apple or stone fruit"),
            (AcidProfile.CitricFruit, "Berries or citrus fruit"),
        ],
        Help: "Only for the proportions of the acids; the amount is fitted to pH and acidity.");

    public static readonly NumberOutput PhAfter = new("ph-after", "pH after", QuantityKind.Ph, 2);
    public static readonly NumberOutput AcidityAfter = new("acidity-after", "Titratable acidity after, as tartaric acid", QuantityKind.AcidConcentration, 1);
    public static readonly NumberOutput Buffer = new("ph-per-gram", "Fall of pH for 1 g/L of tartaric acid here", QuantityKind.Ph, 2);

    /// <summary>Said where no drink was named.</summary>
    public static WorksheetNotice DrinkAssumed { get; } =
        WorksheetNotice.Note("drink-assumed", "No drink was named, so the proportions of the acids are those of grape wine; the amount is fitted to what was measured. Name it for mead, must or fruit wine.");

    public static IReadOnlyList<WorksheetSource> Sources { get; } =
    [
        WorksheetSource.Published("PHREEQC", "check of the balance of charges"),
        WorksheetSource.Published("Prenesti2012", "weaker acids in alcohol; acids of wines"),
        WorksheetSource.Published("WRE2021", "how far real wines moved"),
        WorksheetSource.Computed("equivalents from atomic masses"),
    ];

    /// <summary>The fitted buffer, or the fault of the acidity.</summary>
    public static AcidBuffer Fitted(WorksheetValues values, AcidProfile profile, double alcohol, MassConcentration? malic = null) => AcidBuffer.Fit(
        new(
            Quantities.Ph.FromValue(values.Of(Ph)),
            TitratableAcidity.FromGramsPerLiter(values.Of(Acidity), AcidBasis.Tartaric),
            AlcoholByVolume.FromPercent(alcohol),
            values.Of(EndPoint)),
        profile,
        malic) ?? throw values.Wrong(Acidity, malic is null ? "more, beside this pH: one of the two is wrong" : "more, beside this pH and this malic acid: one of the three is wrong");

    /// <summary>Predicted pH and acidity as results.</summary>
    /// <param name="after">The prediction.</param>
    /// <param name="doseError">Error of the acidity by the strength of what is added. [meq/L]</param>
    public static IReadOnlyList<WorksheetResult> Results(AcidPrediction after, double doseError = 0) => [PhAfter.Is(after.Ph, ph => ph.Value), AcidityAfter.Is(
        after.Acidity.Value.GramsPerLiter(AcidBasis.Tartaric),
        (after.Acidity.Tolerance + doseError) / 1000 * AcidBasis.Tartaric.GramsPerEquivalent(),
        after.Acidity.Validity)];

    /// <summary>What is said when the acidity ends outside what most wines taste right with.</summary>
    public static IReadOnlyList<WorksheetNotice> TasteNotices(AcidPrediction after)
    {
        var acidity = after.Acidity.Value.GramsPerLiter(AcidBasis.Tartaric);
        return acidity is < AcidRanges.LowestTasted or > AcidRanges.HighestTasted
            ? [WorksheetNotice.Warning("outside-taste", $"Most wines taste right between {AcidRanges.LowestTasted:F0} and {AcidRanges.HighestTasted:F0} g/L as tartaric; this ends at {acidity:F1} g/L. Sweetness and alcohol carry more acid, tannin less.")]
            : [];
    }

    /// <summary>How weak this buffer is, and what that means.</summary>
    public static IReadOnlyList<WorksheetNotice> Notices(AcidBuffer buffer, AcidProfile profile)
    {
        var notices = new List<WorksheetNotice>
        {
            WorksheetNotice.Note("change-not-composition", "The model is fitted to your pH and acidity and predicts changes. Real wines moved between 0.8 and 2.2 times as far as predicted, so make a bench trial on this wine and measure."),
        };
        if (profile is AcidProfile.Mead)
        {
            notices.Add(WorksheetNotice.Warning("weak-buffer", "Honey buffers little: the same acid moves a mead two to three times as far as a wine, and pH can crash during the ferment. Gluconic acid and its lactones shift slowly, so the titratable acidity drifts up for weeks."));
        }

        if (Fall(buffer) > 0.25 && profile is not AcidProfile.Mead)
        {
            notices.Add(WorksheetNotice.Warning("weak-buffer", "This must or wine buffers little: add a quarter of the dose and measure."));
        }

        return notices;
    }

    /// <summary>Fall of the pH for 1 g/L of tartaric acid.</summary>
    public static double Fall(AcidBuffer buffer) => -buffer.After(AcidChange.Addition(WeakAcid.Tartaric, MassConcentration.FromGramsPerLiter(1))).PhChange;
}
