using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Any addition against its guard rails.</summary>
internal static class AdditiveLimitsEntry
{
    private static readonly ChoiceInput<Additive> AdditiveInput = new("additive", "What is added", [.. AdditiveRules.All.Select(rule => (rule.Additive, char.ToUpperInvariant(rule.Name[0]) + rule.Name[1..]))]);
    private static readonly NumberInput Dose = new("dose", "Dose", QuantityKind.Dose, 0, 50, Help: "Of what the choice counts.");
    private static readonly NumberInput Already = new("already-there", "The same already there", QuantityKind.Dose, 0, 50, Usual: 0);

    private static readonly NumberOutput Total = new("total", "In all", QuantityKind.Dose, 3);
    private static readonly NumberOutput Limit = new("limit", "Limit that counts", QuantityKind.Dose, 3);
    private static readonly NumberOutput Recommended = new("recommended", "Recommended at most", QuantityKind.Dose, 3);
    private static readonly TextOutput Meaning = new("meaning", "That is");

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "additive-limits",
        Subject = WorksheetSubject.Stabilizing,
        Title = "A dose against its limits",
        Purpose = "Holds any addition, with what is already there, against what is recommended and against the limits of a law for trade. Beyond the limit it refuses, beyond the recommended it warns.",
        Inputs = [AdditiveInput, Dose, Already, SulfiteFields.Color, SulfiteFields.Sugar, LawField.Input],
        Outputs = [Total, Limit, Recommended, Meaning],
        Sources =
        [
            WorksheetSource.Published("CFR4.22", "sulfite, United States"),
            WorksheetSource.Published("CFR24.246", "sorbic acid and copper, United States"),
            WorksheetSource.Published("EU2019934", "sulfite and sorbic acid, European Union"),
            WorksheetSource.Published("OIVA1", "acid, ascorbic acid, ammonium salts"),
            WorksheetSource.Published("OIVC101", "citric acid and copper"),
            WorksheetSource.Published("OIVII345", "sorbic acid"),
            TanninFields.Source,
            WorksheetSource.CommonPractice("carbonates, yeast, oak, bentonite, and what is recommended for acids"),
            WorksheetSource.FromMemory("diammonium phosphate in the European Union and the United States; tannin in the United States"),
        ],
        Cautions = [Caution.LocalLaw, Caution.MeasureFirst],
        Examples =
        [
            WorkedExample.Of("additive=sorbic-acid dose=100mg/L law=eu", "Regulation (EU) 2019/934: 200 mg/L", new("limit", 0.2, 1e-9), new("total", 0.1, 1e-9)),
            WorkedExample.Saying("additive=sulfur-dioxide dose=60mg/L already-there=120mg/L color=red law=eu", "Regulation (EU) 2019/934: 150 mg/L", DoseAssessment.RefusalCode),
            WorkedExample.Saying("additive=tannin-powder dose=400mg/L", "Downey and Harbertson: 50 to 300 mg/L", DoseAssessment.WarningCode),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var additive = values.Of(AdditiveInput);
        var context = new DoseContext(MassConcentration.FromGramsPerLiter(values.Of(Already)), values.Of(SulfiteFields.Color), values.Maybe(SulfiteFields.Sugar));
        var said = GuardRails.Assess(additive, MassConcentration.FromGramsPerLiter(values.Of(Dose)), values.Of(LawField.Input), context);
        if (said.IsRefused)
        {
            return new([], [said.Notice!]);
        }

        var results = new List<WorksheetResult> { Total.Is(said.Total.GramsPerLiter) };
        if (said.Absolute is { } absolute)
        {
            results.Add(Limit.Is(absolute.Highest.GramsPerLiter));
        }

        if (AdditiveRules.Of(additive).Recommended is { } recommended)
        {
            results.Add(Recommended.Is(recommended.Highest.GramsPerLiter));
        }

        results.Add(Meaning.Is(said.Words));
        return new(results, said.Notice is { } warning ? [warning] : []);
    }
}
