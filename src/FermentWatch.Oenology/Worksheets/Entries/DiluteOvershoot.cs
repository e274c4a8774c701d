using FermentWatch.Oenology.Blending;
using FermentWatch.Oenology.Limits;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>A glass or vessel that got too much.</summary>
internal static class DiluteOvershoot
{
    private static readonly NumberInput Volume = new("volume", "Volume that got too much", QuantityKind.Volume, 0.01, 10_000);
    private static readonly NumberInput Present = new("present-content", "What it holds, in a unit of your choice for a liter", QuantityKind.Ratio, 0, 10_000);
    private static readonly NumberInput Wanted = new("wanted-content", "What it should hold, same unit", QuantityKind.Ratio, 0, 10_000);
    private static readonly NumberInput Base = new("base-content", "What the wine to dilute with holds, same unit", QuantityKind.Ratio, 0, 10_000, 0);
    private static readonly NumberOutput Add = new("base-volume", "Wine to add", QuantityKind.Volume, 3);
    private static readonly NumberOutput After = new("volume-after", "Volume after it", QuantityKind.Volume, 3);

    public static Worksheet Sheet { get; } = new()
    {
        Name = "dilute-overshoot",
        Subject = WorksheetSubject.Blending,
        Title = "Dilute what got too much",
        Purpose = "How much of the untouched wine brings an overdosed one back: acid, tannin, sugar or sulfite. Water works too, and thins everything else.",
        Inputs = [Volume, Present, Wanted, Base],
        Outputs = [Add, After],
        Sources = [WorksheetSource.Computed("balance of what is dissolved"), WorksheetSource.CommonPractice("dilution rescues an overshot glass")],
        Cautions = [Caution.MeasureFirst],
        Examples = [WorkedExample.Of("volume=0.1 present-content=4 wanted-content=2.5 base-content=1", "computed by hand: 0.1 x 1.5 / 1.5", new ExpectedResult("base-volume", 0.1, 1e-9))],
        Compute = values => PearsonSquare.LitersToDilute(values.Volume(Volume), values.Of(Present), values.Of(Wanted), values.Of(Base)) is { } liters
            ? WorksheetAnswer.Of(Add.Is(liters), After.Is(values.Of(Volume) + liters))
            : WorksheetAnswer.Refuse("dilution-impossible", "Dilution can't get there: what is wanted must lie between the wine to dilute with and the overdosed one."),
    };
}
