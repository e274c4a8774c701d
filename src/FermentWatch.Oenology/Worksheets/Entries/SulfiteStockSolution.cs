using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>A stock solution of sulfite and how much of it a small batch needs.</summary>
internal static class SulfiteStockSolution
{
    private static readonly NumberInput StockVolume = new("stock-volume", "Stock solution to make", QuantityKind.SmallVolume, 10, 2000, Usual: 100);
    private static readonly NumberInput StockStrength = new("stock-strength", "Powder in 100 mL of it", QuantityKind.Mass, 1, 20, Usual: 10);

    private static readonly NumberOutput Powder = new("stock-powder", "Powder to weigh, filled up with water", QuantityKind.Mass, 1);
    private static readonly NumberOutput InStock = new("sulfite-in-stock", "Sulfur dioxide in the stock", QuantityKind.Dose, 1);
    private static readonly NumberOutput Dose = new("stock-dose", "Stock for the addition", QuantityKind.SmallVolume, 1);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "sulfite-stock-solution",
        Subject = WorksheetSubject.Stabilizing,
        Title = "Sulfite stock solution",
        Purpose = "For additions too small to weigh: a solution of known strength, measured with a syringe.",
        Inputs = [SulfiteFields.Volume, SulfiteFields.Addition, StockVolume, StockStrength, SulfiteFields.Salt, SulfiteFields.Strength],
        Outputs = [Powder, InStock, Dose],
        Sources = [WorksheetSource.Computed("strength by atomic masses"), WorksheetSource.CommonPractice("keep it full and closed, and use it within two weeks")],
        Cautions = [Caution.Sulfite, Caution.Cleaners],
        Examples =
        [
            WorkedExample.Of("volume=20 addition=50", "computed by hand: 1 g of sulfur dioxide / 0.5763 / 0.1 g/mL", new("stock-powder", 10, 1e-9), new("stock-dose", 17.35, 0.01), new("sulfite-in-stock", 57.63, 0.05)),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var (powder, strength) = (SulfiteFields.Powder(values), values.Of(StockStrength) / 100);
        var addition = MassConcentration.FromMilligramsPerLiter(values.Of(SulfiteFields.Addition));
        return new WorksheetAnswer(
            [
                Powder.Is(SulfiteStock.GramsFor(values.Of(StockVolume), strength)),
                InStock.Is(1000 * strength * powder.SulfurDioxideShare),
                Dose.Is(SulfiteStock.MillilitersFor(addition, values.Volume(SulfiteFields.Volume), powder, strength)),
            ],
            [WorksheetNotice.Note("loses-strength", "The solution loses gas: label it with the date and make it fresh within two weeks (common practice, no source).")]);
    }
}
