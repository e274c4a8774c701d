using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>A carbonate on the shelf.</summary>
internal enum ShelfCarbonate
{
    PotassiumBicarbonate,
    PotassiumCarbonate,
    CalciumCarbonate,
}

/// <summary>Carbonate for a wanted fall of acidity, between its two limits.</summary>
internal static class Deacidification
{
    private static readonly ChoiceInput<ShelfCarbonate> CarbonateInput = new(
        "carbonate",
        "Carbonate",
        [(ShelfCarbonate.PotassiumBicarbonate, "Potassium bicarbonate"), (ShelfCarbonate.PotassiumCarbonate, "Potassium carbonate"), (ShelfCarbonate.CalciumCarbonate, "Calcium carbonate")],
        ShelfCarbonate.PotassiumBicarbonate);

    private static readonly NumberInput Fall = new("fall", "Fall of titratable acidity wanted, as tartaric acid", QuantityKind.AcidConcentration, 0.1, 6);

    private static readonly NumberOutput Least = new("mass-least", "At least, if all the tartrate settles in the cold", QuantityKind.Mass, 1);
    private static readonly NumberOutput Most = new("mass-most", "At most, if none settles", QuantityKind.Mass, 1);
    private static readonly NumberOutput PhSettled = new("ph-settled", "pH after the least, with tartrate settled", QuantityKind.Ph, 2);
    private static readonly NumberOutput PhUnsettled = new("ph-unsettled", "pH after the most, without", QuantityKind.Ph, 2);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "deacidification",
        Subject = WorksheetSubject.Acidity,
        Title = "Carbonate for less acid",
        Purpose = "How much carbonate for a fall of titratable acidity. It depends on how much tartrate settles later, so two limits are given: begin with the lesser, chill, measure, and taste. With more than 4 g/L of malic acid, malolactic conversion is the better way.",
        Inputs = [AcidFields.Volume, AcidFields.Ph, AcidFields.Acidity, AcidFields.Profile, AcidFields.Alcohol, CarbonateInput, Fall, AcidFields.EndPoint, LawField.Input],
        Outputs = [Least, Most, PhSettled, PhUnsettled],
        Sources = [.. AcidFields.Sources, WorksheetSource.Published("AWRI", "reactions of carbonates"), WorksheetSource.Published("Mattick1980", "malolactic conversion where there is much malic acid"), WorksheetSource.CommonPractice("highest doses of carbonates"), WorksheetSource.Published("RibereauGayon2006", "0.49 g/L as sulfuric for 1 g/L of potassium bicarbonate")],
        Cautions = [Caution.CarbonateFoam, Caution.MeasureFirst],
        Examples =
        [
            WorkedExample.Of("volume=19 ph=3.2 titratable-acidity=9 drink=grape-wine carbonate=calcium-carbonate fall=0.8", "stoichiometry: 0.8 x 19/1.4996", new("mass-most", 10.14, 0.05), new("mass-least", 10.14, 0.05)),
            WorkedExample.Of("volume=20 ph=3.2 titratable-acidity=9 drink=grape-wine fall=1", "stoichiometry: 0.67 to 1.33 g/L", new("mass-least", 13.34, 0.05), new("mass-most", 26.68, 0.05)),
            WorkedExample.Saying("volume=20 ph=3.0 titratable-acidity=14 drink=grape-wine carbonate=calcium-carbonate fall=5", "common practice: 3 g/L of calcium carbonate at most", "beyond-limit"),
            WorkedExample.Saying("volume=20 ph=3.2 titratable-acidity=9 drink=grape-wine fall=2.5", "common practice: not more than 2 g/L", "more-than-usual"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var profile = values.Of(AcidFields.Profile);
        var buffer = AcidFields.Fitted(values, profile, values.Of(AcidFields.Alcohol));
        if (values.Of(Fall) >= values.Of(AcidFields.Acidity))
        {
            throw values.Wrong(Fall, "less than the titratable acidity now");
        }

        var carbonate = values.Of(CarbonateInput) switch
        {
            ShelfCarbonate.PotassiumBicarbonate => Carbonate.PotassiumBicarbonate,
            ShelfCarbonate.PotassiumCarbonate => Carbonate.PotassiumCarbonate,
            _ => Carbonate.CalciumCarbonate,
        };
        var (least, most) = carbonate.DoseFor(TitratableAcidity.FromGramsPerLiter(values.Of(Fall), AcidBasis.Tartaric));
        var assessed = Assessed(values, carbonate, least);
        if (assessed.IsRefused)
        {
            return new WorksheetAnswer([], [assessed.Notice!]);
        }

        var volume = values.Volume(AcidFields.Volume);
        return new WorksheetAnswer(
            [
                Least.Is(least.GramsIn(volume)),
                Most.Is(most.GramsIn(volume)),
                PhSettled.Is(buffer.After(carbonate.ChangeBy(least, 1)).Ph, ph => ph.Value),
                PhUnsettled.Is(buffer.After(carbonate.ChangeBy(most, 0)).Ph, ph => ph.Value),
            ],
            [.. new[] { Assessed(values, carbonate, most).Notice }.OfType<WorksheetNotice>().Where(notice => notice.Weight is NoticeWeight.Warning), .. AcidFields.Notices(buffer, profile), .. Notices(values)]);
    }

    // Potassium carbonate has no guard rail of its own: it counts as the bicarbonate of the same acid bound.
    private static DoseAssessment Assessed(WorksheetValues values, Carbonate carbonate, MassConcentration dose) => GuardRails.Assess(
        values.Of(CarbonateInput) is ShelfCarbonate.CalciumCarbonate ? Additive.CalciumCarbonate : Additive.PotassiumBicarbonate,
        values.Of(CarbonateInput) is ShelfCarbonate.PotassiumCarbonate
            ? MassConcentration.FromGramsPerLiter(dose.GramsPerLiter * carbonate.FallWithoutSettling / Carbonate.PotassiumBicarbonate.FallWithoutSettling)
            : dose,
        values.Of(LawField.Input),
        DoseContext.Unknown);

    private static IEnumerable<WorksheetNotice> Notices(WorksheetValues values)
    {
        yield return WorksheetNotice.Note("sulfite-again", "The pH rises: free sulfite protects less afterwards, so look at it again.");
        if (values.Of(Fall) > 2)
        {
            yield return WorksheetNotice.Warning("more-than-usual", "More than 1 to 2 g/L strips a wine (common practice, no source): try it on a sample, and rather by malolactic conversion or blending.");
        }

        if (values.Of(AcidFields.Profile) is AcidProfile.Mead or AcidProfile.MalicFruit or AcidProfile.CitricFruit)
        {
            yield return WorksheetNotice.Note("little-tartaric", "There is little tartaric acid here, so nearly nothing settles: the greater limit is the likely one.");
        }

        if (values.Of(CarbonateInput) is ShelfCarbonate.CalciumCarbonate)
        {
            yield return WorksheetNotice.Warning("calcium-tartrate", "Calcium tartrate settles over weeks, also in the bottle: long before bottling only.");
        }
    }
}
