using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Tannin;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Tannin powder, in steps.</summary>
internal static class TanninPowderEntry
{
    private static readonly NumberInput Dose = new("dose", "Dose of powder", QuantityKind.SmallDose, 1, 5000, Help: "From a bench trial; usual are 50 to 300 mg/L.");
    private static readonly NumberInput Content = new("tannin-content", "Tannin in the powder, by its maker", QuantityKind.Percent, 1, 100, Optional: true);

    private static readonly NumberOutput Mass = new("mass", "Powder in all", QuantityKind.Mass, 2);
    private static readonly NumberListOutput Steps = new("steps", "Running total after each step", QuantityKind.Mass, 2);
    private static readonly NumberOutput Tannin = new("tannin", "Tannin that it brings", QuantityKind.SmallDose, 0);
    private static readonly NumberOutput Days = new("days", "Days until the last step can be judged", QuantityKind.Days, 0);
    private static readonly NumberListOutput Trial = new("trial-doses", "Doses for a held trial", QuantityKind.SmallDose, 0);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "tannin-powder",
        Subject = WorksheetSubject.Tannin,
        Title = "Tannin powder, little by little",
        Purpose = "Powder for a dose, in steps with a taste between. Weak evidence: at usual rates no change of a wine's tannin was measured, and high rates harmed it.",
        Inputs = [TanninFields.Volume, Dose, Content, TanninFields.Already, TanninFields.Color, LawField.Input],
        Outputs = [Mass, Steps, Tannin, Days, Trial],
        Sources = [TanninFields.Source, WorksheetSource.CommonPractice("one to two weeks of waiting, little by little"), WorksheetSource.FromMemory("limit of the United States")],
        Cautions = [Caution.MeasureFirst, Caution.Foam, Caution.LocalLaw],
        Examples =
        [
            WorkedExample.Of("volume=20 dose=200 tannin-content=30", "computed by hand: 20 x 0.2 g in two steps, 30 % of 200", new("mass", 4, 1e-9), new("tannin", 60, 1e-9), new("days", 28, 0)),
            WorkedExample.Saying("volume=20 dose=400 color=red", "Downey and Harbertson: 50 to 300 mg/L", DoseAssessment.WarningCode),
            WorkedExample.Saying("volume=20 dose=900", "27 CFR 24.246 (from memory): 0.8 g/L for white wine, the strictest", DoseAssessment.RefusalCode),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var dose = MassConcentration.FromMilligramsPerLiter(values.Of(Dose));
        var said = TanninFields.Assess(values, dose);
        if (said.IsRefused)
        {
            return new([], [said.Notice!]);
        }

        var volume = values.Volume(TanninFields.Volume);
        var steps = TanninSupply.Steps(dose);
        var results = new List<WorksheetResult>
        {
            Mass.Is(dose.GramsIn(volume)),
            Steps.Are([.. steps.Select(step => step / 1000 * volume.Liters)]),
        };
        if (values.Maybe(Content) is { } content)
        {
            results.Add(Tannin.Is(TanninSupply.TanninOf(dose, content / 100).MilligramsPerLiter));
        }

        results.Add(Days.Is(steps.Count * TanninSupply.MostWaitDays));
        results.Add(Trial.Are(TanninSupply.TrialDoses));
        var notices = new List<WorksheetNotice> { TanninFields.Wait };
        if (said.Notice is { } warning)
        {
            notices.Add(warning);
        }

        if (values.Maybe(Content) is null)
        {
            notices.Add(WorksheetNotice.Note("content-unknown", "Powders hold 12 to 48 % tannin: with the content that its maker states the tannin is shown too."));
        }

        return new(results, notices);
    }
}
