using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>A titratable acidity as other acids, and what gas in the sample adds.</summary>
internal static class TitratableAcidityAs
{
    private static readonly NumberInput Acidity = new("acidity", "Titratable acidity", QuantityKind.AcidConcentration, 0, 40);
    private static readonly ChoiceInput<AcidBasis> BasisInput = new(
        "as",
        "Expressed as",
        [
            (AcidBasis.Tartaric, "Tartaric acid"), (AcidBasis.Malic, "Malic acid"), (AcidBasis.Citric, "Citric acid"), (AcidBasis.Lactic, "Lactic acid"),
            (AcidBasis.Sulfuric, "Sulfuric acid"), (AcidBasis.Acetic, "Acetic acid"),
        ],
        AcidBasis.Tartaric);

    private static readonly NumberInput Gas = new("dissolved-gas", "Carbon dioxide in the sample, if it was not degassed", QuantityKind.AcidConcentration, 0, 12, Optional: true, Help: "1.4 g/L in a still wine full of gas at 20 °C, 1.9 at 12 °C.");

    private static readonly IReadOnlyList<(AcidBasis Basis, NumberOutput Output)> OutputsOutput =
    [
        (AcidBasis.Tartaric, new("as-tartaric", "As tartaric acid", QuantityKind.AcidConcentration, 2)),
        (AcidBasis.Malic, new("as-malic", "As malic acid", QuantityKind.AcidConcentration, 2)),
        (AcidBasis.Citric, new("as-citric", "As citric acid", QuantityKind.AcidConcentration, 2)),
        (AcidBasis.Lactic, new("as-lactic", "As lactic acid", QuantityKind.AcidConcentration, 2)),
        (AcidBasis.Sulfuric, new("as-sulfuric", "As sulfuric acid", QuantityKind.AcidConcentration, 2)),
        (AcidBasis.Acetic, new("as-acetic", "As acetic acid", QuantityKind.AcidConcentration, 2)),
    ];

    private static readonly NumberOutput OfGas = new("of-gas", "Of it from gas, at most, as tartaric acid", QuantityKind.AcidConcentration, 1);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "titratable-acidity",
        Subject = WorksheetSubject.Acidity,
        Title = "Titratable acidity as another acid",
        Purpose = "The same titration in the units of other countries. It does not say which acids the wine holds.",
        Inputs = [Acidity, BasisInput, AcidFields.EndPoint, Gas],
        Outputs = [.. OutputsOutput.Select(pair => pair.Output), OfGas],
        Sources = [WorksheetSource.Computed("equivalents from atomic masses"), WorksheetSource.Published("PHREEQC", "constants of carbonic acid")],
        Cautions = [Caution.MeasureFirst],
        Examples =
        [
            WorkedExample.Of("acidity=6.5", "ratios of equivalent masses", new("as-malic", 5.807, 0.002), new("as-lactic", 7.802, 0.002), new("as-sulfuric", 4.247, 0.002), new("as-acetic", 5.202, 0.002)),
            WorkedExample.Of("acidity=1 as=sulfuric", "a printed summary says 1.53", new ExpectedResult("as-tartaric", 1.53, 0.003)),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var acidity = TitratableAcidity.FromGramsPerLiter(values.Of(Acidity), values.Of(BasisInput));
        var results = OutputsOutput.Select(pair => (WorksheetResult)pair.Output.Is(acidity.GramsPerLiter(pair.Basis))).ToList();
        var notices = new List<WorksheetNotice>
        {
            WorksheetNotice.Note("end-point", "A titration to pH 7.0 gives less than one to pH 8.2, by the model up to 2.5 %: compare only numbers of the same end point."),
        };
        if (values.Maybe(Gas) is { } gas)
        {
            var counted = DissolvedGas.CountsAs(MassConcentration.FromGramsPerLiter(gas), values.Of(AcidFields.EndPoint), AlcoholByVolume.FromPercent(12));
            results.Add(OfGas.Is(counted.GramsPerLiter(AcidBasis.Tartaric)));
            notices.Add(WorksheetNotice.Warning("degas", "Dissolved carbon dioxide was titrated as acid: degas the sample and measure again."));
        }

        return new WorksheetAnswer(results, notices);
    }
}
