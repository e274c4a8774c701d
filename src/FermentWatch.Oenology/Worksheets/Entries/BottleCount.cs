using FermentWatch.Oenology.Bottling;
using FermentWatch.Oenology.Limits;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Bottles that a volume fills.</summary>
internal static class BottleCount
{
    private static readonly NumberInput Loss = new("loss", "Stays in vessel, hose and filter", QuantityKind.Percent, 0, 50, Usual: 2, Help: "1 to 3 % with care, 5 to 10 % off lees.");

    private static readonly NumberOutput Full = new("bottles", "Full bottles", QuantityKind.Count, 0);
    private static readonly NumberOutput Last = new("last-bottle", "Left for a last part bottle", QuantityKind.SmallVolume, 0);
    private static readonly NumberOutput Lost = new("lost", "Lost", QuantityKind.Volume, 2);
    private static readonly NumberOutput Headspace = new("headspace-share", "Headspace over the wine", QuantityKind.Percent, 1);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "bottle-count",
        Subject = WorksheetSubject.Bottling,
        Title = "Bottles and fill",
        Purpose = "How many bottles a volume fills, what is left for a last one, and the headspace. A part bottle is drunk first, not kept.",
        Inputs = [GasFields.Volume, Loss, GasFields.Bottle, GasFields.Headspace],
        Outputs = [Full, Last, Lost, Headspace],
        Sources = [WorksheetSource.Computed("arithmetic"), WorksheetSource.CommonPractice("losses of 1 to 3 %, 5 to 10 % off lees")],
        Cautions = [Caution.BottlePressure, Caution.GlassVessel, Caution.Cleaners],
        Examples =
        [
            WorkedExample.Of("volume=20 loss=2 bottle-size=750", "computed by hand: 19.6 L are 26 bottles and 100 mL", new("bottles", 26, 0), new("last-bottle", 100, 1e-6), new("lost", 0.4, 1e-9)),
            WorkedExample.Of("volume=4.5 loss=0 bottle-size=750 headspace=15", "computed by hand: 6 bottles, 15 of 750 mL", new("bottles", 6, 0), new("last-bottle", 0, 0), new("headspace-share", 2, 1e-9)),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        _ = GasFields.HeadspaceRatio(values);
        var fill = BottleFill.Of(values.Volume(GasFields.Volume), values.Of(Loss) / 100, values.Of(GasFields.Bottle), values.Of(GasFields.Headspace));
        IReadOnlyList<WorksheetNotice> notices = fill.LastMilliliters > 0
            ? [WorksheetNotice.Note("part-bottle", "A part bottle holds air over the wine: drink it first, or keep it cold for topping up.")]
            : [];
        return new(
            [
                Full.Is(fill.FullBottles),
                Last.Is(fill.LastMilliliters),
                Lost.Is(fill.Lost.Liters),
                Headspace.Is(100 * fill.HeadspaceRatio),
            ],
            notices);
    }
}
