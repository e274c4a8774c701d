using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Tablets by the strength on their label.</summary>
internal static class SulfiteTablets
{
    private static readonly NumberInput Label = new("tablet-addition", "One tablet gives, by its label", QuantityKind.SmallDose, 5, 500, Optional: true, Help: "mg/L of sulfur dioxide in the volume below.");
    private static readonly NumberInput In = new("tablet-volume", "in a volume of", QuantityKind.Volume, 0.5, 50, Optional: true);
    private static readonly NumberInput Mass = new("tablet-mass", "or one tablet holds this much salt", QuantityKind.Mass, 0.05, 5, Optional: true);

    private static readonly NumberOutput Exact = new("tablets", "Tablets by arithmetic", QuantityKind.Count, 2);
    private static readonly NumberOutput Whole = new("whole-tablets", "Whole tablets", QuantityKind.Count, 0);
    private static readonly NumberOutput Achieved = new("addition-achieved", "What the whole ones give, as sulfur dioxide", QuantityKind.SmallDose, 0);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "sulfite-tablets",
        Subject = WorksheetSubject.Stabilizing,
        Title = "Sulfite in tablets",
        Purpose = "Tablets differ in strength by half, so their label is asked for and none is assumed.",
        Inputs = [SulfiteFields.Volume, SulfiteFields.Addition, Label, In, Mass, SulfiteFields.Salt],
        Outputs = [Exact, Whole, Achieved],
        Sources = [WorksheetSource.Computed("balance of mass; salt by atomic masses")],
        Cautions = [Caution.Sulfite, Caution.MeasureFirst],
        Examples =
        [
            WorkedExample.Of("volume=20 addition=45 tablet-addition=50 tablet-volume=4.5", "computed by hand: 900 mg over 225 mg", new("tablets", 4, 1e-9), new("whole-tablets", 4, 0), new("addition-achieved", 45, 1e-9)),
            WorkedExample.Of("volume=4.546 addition=50 tablet-mass=0.44", "0.44 g of potassium metabisulfite, from memory: 55.8 mg/L in an imperial gallon", new("whole-tablets", 1, 0), new("addition-achieved", 55.8, 0.1)),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var tablet = values.Maybe(Mass) is { } grams
            ? SulfiteTablet.OfSalt(grams, values.Of(SulfiteFields.Salt) is ShelfSulfite.Sodium ? SulfiteSalt.Sodium : SulfiteSalt.Potassium)
            : SulfiteTablet.OfLabel(
                MassConcentration.FromMilligramsPerLiter(values.Needed(Label, "because the mass of a tablet is not given")),
                Volume.FromLiters(values.Needed(In, "because the mass of a tablet is not given")));
        var volume = values.Volume(SulfiteFields.Volume);
        var exact = tablet.CountFor(MassConcentration.FromMilligramsPerLiter(values.Of(SulfiteFields.Addition)), volume);
        var whole = Math.Round(exact, MidpointRounding.AwayFromZero);
        IReadOnlyList<WorksheetResult> results = [Exact.Is(exact), Whole.Is(whole), Achieved.Is(whole * tablet.SulfurDioxideMilligrams / volume.Liters)];
        IReadOnlyList<WorksheetNotice> notices = whole < 1
            ? [WorksheetNotice.Warning("less-than-one", "Less than half a tablet: use powder or a stock solution instead.")]
            : Math.Abs(whole - exact) > 0.1 * exact
                ? [WorksheetNotice.Warning("rounded", "Whole tablets miss the addition by more than a tenth: powder or a stock solution is more exact.")]
                : [];
        return new WorksheetAnswer(results, [.. notices, WorksheetNotice.Note("crush", "Crush and dissolve tablets before adding; they hold a filler that clouds.")]);
    }
}
