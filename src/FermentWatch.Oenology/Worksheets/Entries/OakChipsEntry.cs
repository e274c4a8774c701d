using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Tannin;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Oak chips and when to taste.</summary>
internal static class OakChipsEntry
{
    private static readonly NumberInput Dose = new("dose", "Oak chips", QuantityKind.Dose, 0.1, 20, Usual: 2, Help: "2 to 4 g/L are usual.");
    private static readonly NumberInput Weeks = new("days", "Longest stay on oak", QuantityKind.Days, 7, 180, Usual: 42);

    private static readonly NumberOutput Mass = new("mass", "Oak chips", QuantityKind.Mass, 0);
    private static readonly NumberListOutput Tastes = new("tasting-days", "Taste on day", QuantityKind.Days, 0);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "oak-chips",
        Subject = WorksheetSubject.Tannin,
        Title = "Oak chips",
        Purpose = "Chips for a volume and the days on which to taste. Too long on oak tastes astringent: rack off a little before it is right.",
        Inputs = [TanninFields.Volume, Dose, Weeks],
        Outputs = [Mass, Tastes],
        Sources = [WorksheetSource.CommonPractice("2 to 4 g/L, tasted weekly; too long tastes astringent")],
        Cautions = [Caution.MeasureFirst],
        Examples =
        [
            WorkedExample.Of("volume=20 dose=3", "computed by hand", new ExpectedResult("mass", 60, 1e-9)),
            WorkedExample.Saying("volume=20 dose=6", "common practice, no source: 2 to 4 g/L", DoseAssessment.WarningCode),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var dose = MassConcentration.FromGramsPerLiter(values.Of(Dose));
        var said = GuardRails.Assess(Additive.OakChips, dose, Law.Strictest, DoseContext.Unknown);
        var tastes = (int)(values.Of(Weeks) / TanninSupply.OakTastingDays);
        return new(
            [Mass.Is(dose.GramsIn(values.Volume(TanninFields.Volume))), Tastes.Are([.. Enumerable.Range(1, tastes).Select(week => (double)(week * TanninSupply.OakTastingDays))])],
            said.Notice is { } warning ? [warning] : []);
    }
}
