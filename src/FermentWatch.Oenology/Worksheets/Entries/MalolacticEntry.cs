using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>What malolactic conversion does to acid and pH.</summary>
internal static class MalolacticEntry
{
    private static readonly NumberInput Malic = new("malic-acid", "Malic acid, measured", QuantityKind.AcidConcentration, 0.05, 15);

    private static readonly NumberOutput Lactic = new("lactic-acid", "Lactic acid formed", QuantityKind.AcidConcentration, 2);
    private static readonly NumberOutput Gas = new("carbon-dioxide", "Carbon dioxide formed", QuantityKind.AcidConcentration, 2);
    private static readonly NumberOutput Fall = new("acidity-fall", "Fall of titratable acidity, as tartaric acid", QuantityKind.AcidConcentration, 2);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "malolactic-conversion",
        Subject = WorksheetSubject.Acidity,
        Title = "Malolactic conversion",
        Purpose = "What bacteria make of the malic acid: softer lactic acid, less acidity, a higher pH and carbon dioxide that counts in a closed bottle.",
        Inputs = [Malic, AcidFields.Ph, AcidFields.Acidity, AcidFields.Profile, AcidFields.Alcohol, AcidFields.EndPoint],
        Outputs = [Lactic, Gas, Fall, AcidFields.PhAfter, AcidFields.AcidityAfter],
        Sources =
        [
            WorksheetSource.Computed("stoichiometry by atomic masses"),
            WorksheetSource.Published("RiceMattick1970", "malic against lactic acid in production lots"),
            WorksheetSource.Published("BousbourasKunkee1971", "measured rise of pH"),
            .. AcidFields.Sources,
        ],
        Cautions = [Caution.BottlePressure, Caution.MeasureFirst],
        Examples =
        [
            WorkedExample.Of("malic-acid=2 ph=3.219 titratable-acidity=5.415 drink=grape-wine alcohol=0", "PHREEQC, wine base A after conversion of 2 g/L: pH 3.329; stoichiometry", new("ph-after", 3.329, 0.02), new("lactic-acid", 1.344, 0.001), new("carbon-dioxide", 0.656, 0.001), new("acidity-fall", 1.119, 0.001)),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var malic = MassConcentration.FromGramsPerLiter(values.Of(Malic));
        var profile = values.Of(AcidFields.Profile);
        var buffer = AcidFields.Fitted(values, profile, values.Of(AcidFields.Alcohol), malic);
        var after = buffer.After(AcidChange.Malolactic(malic));
        return new WorksheetAnswer(
            [
                Lactic.Is(MalolacticConversion.LacticFrom(malic).GramsPerLiter),
                Gas.Is(MalolacticConversion.CarbonDioxideFrom(malic).GramsPerLiter),
                Fall.Is(MalolacticConversion.FallFrom(malic).GramsPerLiter(AcidBasis.Tartaric)),
                .. AcidFields.Results(after),
            ],
            [
                .. AcidFields.Notices(buffer, profile),
                WorksheetNotice.Note("sulfite-holds-bacteria", "Sulfite holds the bacteria back: none before or during, and only after the malic acid is gone. Never sorbate while they live."),
            ]);
    }
}
