using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sweetening;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Sweeteners that wine yeast can't ferment.</summary>
internal enum UnfermentableKind
{
    Erythritol,
    Xylitol,
    Lactose,
    Steviol,
    Sucralose,
}

/// <summary>How much of such a sweetener tastes like so much sugar.</summary>
internal static class UnfermentableEntry
{
    private static readonly NumberInput Volume = new("volume", "Volume today", QuantityKind.Volume, 0.05, 10_000);
    private static readonly NumberInput As = new("as-sugar", "As sweet as so much sugar", QuantityKind.SugarConcentration, 0.5, 200);
    private static readonly ChoiceInput<UnfermentableKind> Kind = new("sweetener", "Sweetener", [
        (UnfermentableKind.Erythritol, "Erythritol"),
        (UnfermentableKind.Xylitol, "Xylitol"),
        (UnfermentableKind.Lactose, "Lactose"),
        (UnfermentableKind.Steviol, "Steviol glycosides"),
        (UnfermentableKind.Sucralose, "Sucralose")]);
    private static readonly NumberOutput Least = new("sweetener-least", "Begin with no more than", QuantityKind.Mass, 2);
    private static readonly NumberOutput Most = new("sweetener-most", "At most", QuantityKind.Mass, 2);

    public static Worksheet Sheet { get; } = new()
    {
        Name = "unfermentable-sweetener",
        Subject = WorksheetSubject.Sweetening,
        Title = "Sweeten with what yeast can't ferment",
        Purpose = "A range of grams that tastes about as sweet as so much sugar. Taste decides: sweetness bends with acid, alcohol and strength. Read the label's own strength, and what its carrier is: some carriers ferment.",
        Inputs = [Volume, As, Kind],
        Outputs = [Least, Most],
        Sources = [WorksheetSource.FromMemory("sweetness beside sucrose"), WorksheetSource.Published("Moskowitz1970", "sweetness grows faster than concentration")],
        Cautions = [Caution.MeasureFirst, Caution.LocalLaw],
        Examples = [WorkedExample.Of("volume=10 as-sugar=14 sweetener=erythritol", "computed by hand: 140/0.7 and 140/0.6", new("sweetener-least", 200, 1e-9), new("sweetener-most", 233.33, 0.01))],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var kind = values.Of(Kind);
        var sweetener = kind switch
        {
            UnfermentableKind.Erythritol => UnfermentableSweetener.Erythritol,
            UnfermentableKind.Xylitol => UnfermentableSweetener.Xylitol,
            UnfermentableKind.Lactose => UnfermentableSweetener.Lactose,
            UnfermentableKind.Steviol => UnfermentableSweetener.Steviol,
            _ => UnfermentableSweetener.Sucralose,
        };
        var (least, most) = sweetener.GramsFor(SugarConcentration.FromGramsPerLiter(values.Of(As)), values.Volume(Volume));
        return new WorksheetAnswer([Least.Significant(least, 2).Is(least), Most.Significant(most, 2).Is(most)], kind switch
        {
            UnfermentableKind.Xylitol => [WorksheetNotice.Warning("xylitol-dogs", "Xylitol is poisonous to dogs: keep wine and lees away from them.")],
            UnfermentableKind.Lactose => [WorksheetNotice.Warning("lactose-bacteria", "Bacteria can use lactose, and people who don't bear it must be told.")],
            _ => [],
        });
    }
}
