using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Acid for a wanted acidity or pH, or what a dose does.</summary>
internal static class AcidAddition
{
    private static readonly NumberInput WantedAcidity = new("wanted-acidity", "Titratable acidity wanted, as tartaric acid", QuantityKind.AcidConcentration, 0.5, 30, Optional: true, Help: "One of three: acidity, pH or dose.");
    private static readonly NumberInput WantedPh = new("wanted-ph", "or pH wanted", QuantityKind.Ph, 2.5, 4.5, Optional: true);
    private static readonly NumberInput Given = new("acid-dose", "or dose to judge", QuantityKind.Dose, 0.01, 150, Optional: true, Help: "Grams of the acid or juice in a liter of wine.");

    private static readonly NumberInput TrialDose = new("trial-dose", "Bench trial: dose in the sample", QuantityKind.Dose, 0.05, 150, Optional: true, Help: "Of the same acid. With a trial on this wine the pH is predicted much better.");
    private static readonly NumberInput TrialPh = new("trial-ph", "Bench trial: pH of the sample afterwards", QuantityKind.Ph, 2.5, 4.6, Optional: true);

    private static readonly NumberOutput Ratio = new("trial-ratio", "This wine moved, times the model", QuantityKind.Ratio, 1);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "acid-addition",
        Subject = WorksheetSubject.Acidity,
        Title = "Acid for a wanted acidity or pH",
        Purpose = "How much of an acid, and what titratable acidity and pH become. Acidity is arithmetic; pH is predicted from a model fitted to this wine, and real wines move between 0.8 and 2.2 times as far.",
        Inputs =
        [
            AcidFields.Volume, AcidFields.Ph, AcidFields.Acidity, AcidFields.Profile, AcidFields.Alcohol, AcidSupplyFields.Acid, WantedAcidity, WantedPh, Given,
            TrialDose, TrialPh, AcidSupplyFields.Strength, AcidSupplyFields.Density, AcidFields.EndPoint, AcidSupplyFields.Law,
        ],
        Outputs = [AcidSupplyFields.Dose, AcidSupplyFields.Mass, AcidSupplyFields.LiquidVolume, AcidSupplyFields.First, AcidFields.PhAfter, AcidFields.AcidityAfter, AcidFields.Buffer, Ratio],
        Sources =
        [
            .. AcidFields.Sources,
            WorksheetSource.Published("Pandell1999", "limits of taste"),
            WorksheetSource.Published("OIVA1", "at most 54 meq/L added to must"),
            WorksheetSource.Published("OIVC101", "citric acid at most 1 g/L"),
            WorksheetSource.FromMemory("acid of lemon juice, 21 CFR 101.30"),
        ],
        Cautions = [Caution.MeasureFirst, Caution.Acid, Caution.LocalLaw],
        Examples =
        [
            WorkedExample.Of("volume=20 ph=3.6 titratable-acidity=5 drink=grape-wine acid=tartaric wanted-acidity=6", "computed by hand: 1 g/L x 20 L", new("mass", 20, 0.001), new("first-part", 10, 0.001), new("acidity-after", 6, 0.05)),
            WorkedExample.Of("volume=10 ph=3.219 titratable-acidity=5.415 drink=grape-wine alcohol=0 acid=malic acid-dose=1", "PHREEQC, wine base A with 1 g/L malic acid: pH 3.129", new("ph-after", 3.129, 0.02), new("acidity-after", 6.53, 0.05)),
            WorkedExample.Of("volume=20 ph=3.6 titratable-acidity=5 drink=grape-wine acid=lactic-liquid acid-strength=88 acid-density=1190 acid-dose=1.13636", "label arithmetic: 1 g of acid is 1.1364 g of 88 % or 0.9549 mL", new("liquid-volume", 19.1, 0.02), new("acidity-after", 5.83, 0.05)),
            WorkedExample.Of("volume=20 ph=3.95 titratable-acidity=5 drink=grape-wine-after-malolactic alcohol=13 acid=tartaric acid-dose=0.86 trial-dose=0.86 trial-ph=3.69", "Winemakers Research Exchange 2021, Cabernet Franc: pH 3.95 to 3.69 by 0.86 g/L", new ExpectedResult("ph-after", 3.69, 0.001)),
            WorkedExample.Saying("volume=20 ph=3.6 titratable-acidity=5 drink=grape-wine acid=citric acid-dose=1.2", "OIV-MA-C1-01: 1 g/L", "beyond-limit"),
            WorkedExample.Saying("volume=20 ph=3.6 titratable-acidity=2 drink=mead acid=tartaric wanted-acidity=7", "OIV Code annex A.1: 54 meq/L, 4.05 g/L", "beyond-limit"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var supply = AcidSupplyFields.Supply(values);
        var profile = values.Of(AcidFields.Profile);
        var buffer = Calibrated(values, supply, AcidFields.Fitted(values, profile, values.Of(AcidFields.Alcohol)));
        var dose = DoseOf(values, supply, buffer);
        var change = supply.ChangeBy(dose);
        var guarded = AcidSupplyFields.Guarded(values.Of(AcidSupplyFields.Law), change.Added);
        if (AcidSupplyFields.Refusal(guarded) is { } refusal)
        {
            return refusal;
        }

        var after = buffer.After(change);
        return new WorksheetAnswer(
            [
                .. AcidSupplyFields.Results(supply, dose, values.Of(AcidFields.Volume)),
                .. AcidFields.Results(after, supply.RiseOf(dose).Tolerance),
                AcidFields.Buffer.Is(AcidFields.Fall(buffer)),
                .. values.Maybe(TrialPh) is null ? Array.Empty<WorksheetResult>() : [Ratio.Is(buffer.TrialRatio)],
            ],
            [.. guarded, .. AcidFields.Notices(buffer, profile), AcidSupplyFields.TasteOf(values.Of(AcidSupplyFields.Acid)), .. AcidFields.TasteNotices(after), .. SulfiteAgain(after)]);
    }

    private static AcidBuffer Calibrated(WorksheetValues values, AcidSupply supply, AcidBuffer buffer)
    {
        if (values.Maybe(TrialDose) is not { } dose)
        {
            return values.Maybe(TrialPh) is null ? buffer : throw values.Wrong(TrialPh, $"given together with {new FieldName(TrialDose.Key)}");
        }

        var after = Ph.FromValue(values.Needed(TrialPh, "because a bench trial is given"));
        return buffer.CalibratedBy(supply.ChangeBy(dose), after)
            ?? throw values.Wrong(TrialPh, "0.05 or more below the pH now, and not far from what such a dose can do");
    }

    private static double DoseOf(WorksheetValues values, AcidSupply supply, AcidBuffer buffer)
    {
        var (acidity, ph, given) = (values.Maybe(WantedAcidity), values.Maybe(WantedPh), values.Maybe(Given));
        if (new[] { acidity, ph, given }.Count(value => value is not null) > 1)
        {
            throw values.Wrong(acidity is not null ? WantedAcidity : WantedPh, $"the only one of {new FieldName(WantedAcidity.Key)}, {new FieldName(WantedPh.Key)} and {new FieldName(Given.Key)}");
        }

        if (acidity is { } wanted)
        {
            return wanted > values.Of(AcidFields.Acidity)
                ? supply.GramsPerLiterFor(TitratableAcidity.FromGramsPerLiter(wanted - values.Of(AcidFields.Acidity), AcidBasis.Tartaric))
                : throw values.Wrong(WantedAcidity, "above the titratable acidity now; to lower it use a carbonate or dilution");
        }

        if (ph is { } target)
        {
            return supply.GramsPerLiterFor(buffer, Ph.FromValue(target))
                ?? throw values.Wrong(WantedPh, "below the pH now and within reach of this acid");
        }

        return values.Needed(Given, "because neither a wanted acidity nor a wanted pH is given");
    }

    private static IReadOnlyList<WorksheetNotice> SulfiteAgain(AcidPrediction after) => after.PhChange < -0.05
        ? [WorksheetNotice.Note("sulfite-again", "The pH moves: look at free sulfite and its molecular part again afterwards.")]
        : [];
}
