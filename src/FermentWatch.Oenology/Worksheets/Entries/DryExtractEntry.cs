using FermentWatch.Oenology.Alcohol;
using FermentWatch.Oenology.Limits;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Dry extract from measured gravity and alcohol.</summary>
internal static class DryExtractEntry
{
    private static readonly NumberInput Gravity = new("present-gravity", "Gravity now", QuantityKind.Gravity, 0.970, 1.150);
    private static readonly NumberInput Alcohol = new("alcohol", "Alcohol, measured by itself", QuantityKind.Alcohol, 0, 22, Help: "By distillation or ebulliometer; not from gravities.");
    private static readonly NumberOutput Extract = new("dry-extract", "Total dry extract", QuantityKind.SugarConcentration, 1);

    public static Worksheet Sheet { get; } = new()
    {
        Name = "dry-extract",
        Subject = WorksheetSubject.Gravity,
        Title = "Total dry extract",
        Purpose = "Everything but water and alcohol, from gravity and an alcohol that was measured by itself. Sugar is this less about 19 g/L in white and 30 g/L in red wine, ±8 g/L at best; a gravity alone never tells it.",
        Inputs = [Gravity, Alcohol],
        Outputs = [Extract],
        Sources = [WorksheetSource.Published("OIVAS203B", "method"), WorksheetSource.Published("OIMLR22", "density of ethanol and water"), WorksheetSource.Published("Cortez2009", "extract without sugar of 6,497 wines")],
        Cautions = [Caution.SteadyHydrometer],
        Examples = [WorkedExample.Of("present-gravity=0.9920 alcohol=12", "computed by a second program", new ExpectedResult("dry-extract", 20.4, 0.3))],
        Compute = values => new WorksheetAnswer(
            [Extract.Is(DryExtract.Of(values.Gravity(Gravity), values.Alcohol(Alcohol)), sugar => sugar.GramsPerLiter)],
            [WorksheetNotice.Note("not-sugar", "This is not residual sugar: acids, glycerol and minerals are in it, about 19 g/L in white and 30 g/L in red wine.")]),
    };
}
