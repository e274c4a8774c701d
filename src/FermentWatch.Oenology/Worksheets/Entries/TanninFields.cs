using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;
using FermentWatch.Oenology.Tannin;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Fields that the worksheets of tannin share.</summary>
internal static class TanninFields
{
    public static readonly NumberInput Volume = new("volume", "Volume", QuantityKind.Volume, 0.1, 10000, Help: "Measured today.");
    public static readonly NumberInput Already = new("already-there", "The same already added", QuantityKind.SmallDose, 0, 5000, Usual: 0);

    public static readonly ChoiceInput<WineColor> Color = SulfiteFields.Color;

    public static WorksheetNotice Wait { get; } = WorksheetNotice.Note(
        "wait",
        $"Tannin takes {TanninSupply.LeastWaitDays} to {TanninSupply.MostWaitDays} days to show: add early, little by little, and taste beside an untouched glass before the next step; it cannot be taken out again (common practice, no source).");

    public static WorksheetSource Source { get; } = WorksheetSource.Published("DowneyHarbertson", "50 to 300 mg/L recommended, powders with 12 to 48 % tannin, harm of high rates");

    /// <summary>The dose of powder held against the guard rails.</summary>
    public static DoseAssessment Assess(WorksheetValues values, MassConcentration powder) => GuardRails.Assess(
        Additive.TanninPowder,
        powder,
        values.Of(LawField.Input),
        new DoseContext(MassConcentration.FromMilligramsPerLiter(values.Of(Already)), values.Of(Color)));
}
