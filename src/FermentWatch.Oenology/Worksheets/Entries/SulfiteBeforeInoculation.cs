using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>What starts a ferment.</summary>
internal enum FermentStart
{
    CulturedYeast,
    WildYeast,
    MalolacticBacteria,
}

/// <summary>Sulfite of a must, a day before the yeast goes in.</summary>
internal static class SulfiteBeforeInoculation
{
    private const double UsualMilligramsPerLiter = 50;
    private const double HighPhMilligramsPerLiter = 75;

    private static readonly NumberInput Ph = new("ph", "pH of the must", QuantityKind.Ph, 2.5, 4.6, Optional: true);
    private static readonly ChoiceInput<FermentStart> Start = new(
        "start",
        "The ferment is started with",
        [
            (FermentStart.CulturedYeast, "Cultured yeast"),
            (FermentStart.WildYeast, "The yeast of the fruit"),
            (FermentStart.MalolacticBacteria, "Yeast and malolactic bacteria together"),
        ]);

    private static readonly NumberOutput Addition = new("addition", "Addition, as sulfur dioxide", QuantityKind.SmallDose, 0);
    private static readonly NumberOutput Powder = new("powder", "Powder", QuantityKind.Mass, 2);
    private static readonly NumberOutput Stock = new("stock", "or 10 % stock solution", QuantityKind.SmallVolume, 1);
    private static readonly NumberOutput Wait = new("wait", "Wait before the yeast goes in", QuantityKind.Hours, 0);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "sulfite-before-inoculation",
        Subject = WorksheetSubject.Must,
        Title = "Sulfite of the must before inoculation",
        Purpose = "About 50 mg/L a day before the yeast, to hold back what came with the fruit. Yeast binds most of it; none where wild yeast or malolactic bacteria are to work.",
        Inputs = [SulfiteFields.Volume, Start, Ph, SulfiteFields.Salt, SulfiteFields.Strength],
        Outputs = [Addition, Powder, Stock, Wait],
        Sources = [WorksheetSource.CommonPractice("about 50 mg/L and 24 hours before inoculation"), WorksheetSource.Computed("strength of the powder by atomic masses")],
        Cautions = [Caution.Sulfite, Caution.LocalLaw],
        Examples =
        [
            WorkedExample.Of("volume=20 start=cultured-yeast", "computed by hand: 50 mg/L x 20 L / 0.5763", new("addition", 50, 0), new("powder", 1.735, 0.005), new("stock", 17.35, 0.05), new("wait", 24, 0)),
            WorkedExample.Saying("volume=20 start=wild-yeast", "common practice, no source", "would-kill-the-start"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        if (values.Of(Start) is not FermentStart.CulturedYeast)
        {
            return WorksheetAnswer.Refuse("would-kill-the-start", "No sulfite before a start with the yeast of the fruit or with malolactic bacteria: it would hold back what is to work (common practice, no source).");
        }

        var (volume, powder) = (values.Volume(SulfiteFields.Volume), SulfiteFields.Powder(values));
        var addition = MassConcentration.FromMilligramsPerLiter(UsualMilligramsPerLiter);
        var notices = new List<WorksheetNotice>
        {
            WorksheetNotice.Note("count-in", "Write it into the ledger: most of it binds, but it counts toward the total."),
            WorksheetNotice.Note("honey", "Honey brings few microbes and needs none; fruit that is sound and cold needs less (common practice, no source)."),
        };
        if (values.Maybe(Ph) > 3.7)
        {
            notices.Add(WorksheetNotice.Warning("high-ph", $"Above pH 3.7 microbes are held poorly: acid first; up to {HighPhMilligramsPerLiter:F0} mg/L are usual for fruit that is not sound (common practice, no source)."));
        }

        return new WorksheetAnswer(
            [
                Addition.Is(addition.MilligramsPerLiter),
                Powder.Is(powder.GramsFor(addition, volume)),
                Stock.Is(SulfiteStock.MillilitersFor(addition, volume, powder)),
                Wait.Is(24),
            ],
            notices);
    }
}
