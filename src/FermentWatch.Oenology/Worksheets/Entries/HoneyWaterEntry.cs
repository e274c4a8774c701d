using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Must;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Water of honey by refractometer.</summary>
internal static class HoneyWaterEntry
{
    private static readonly NumberInput Index = new("refractive-index", "Refractive index", QuantityKind.RefractiveIndex, 1.470, 1.510);
    private static readonly NumberInput Temperature = new("temperature", "Temperature of the honey", QuantityKind.Temperature, 15, 35, 20);
    private static readonly NumberOutput Water = new("honey-water", "Water", QuantityKind.Percent, 1);
    private static readonly NumberOutput Gravity = new("honey-gravity", "Gravity of the honey", QuantityKind.Gravity, 3);

    public static Worksheet Sheet { get; } = new()
    {
        Name = "honey-water",
        Subject = WorksheetSubject.Must,
        Title = "Water of honey",
        Purpose = "Water of a honey from its refractive index. Above 20 % honey may ferment in its jar.",
        Inputs = [Index, Temperature],
        Outputs = [Water, Gravity],
        Sources = [WorksheetSource.Published("AOAC96938", "table of water by refractive index"), WorksheetSource.FromMemory("Wedmore's equation, matched to the table; gravity by water")],
        Cautions = [Caution.HoneyInfants],
        Examples = [WorkedExample.Of("refractive-index=1.4820 temperature=32", "lines 1.4845 (20.8 %) and 1.4855 (20.4 %) of the table, between them at 1.48476", new ExpectedResult("honey-water", 20.70, 0.1))],
        Compute = values =>
        {
            var water = Honey.WaterPercent(values.Of(Index), values.Temperature(Temperature));
            return WorksheetAnswer.Of(Water.Is(water, percent => percent), Gravity.Is(Honey.GravityOf(water.Value), gravity => gravity.Value));
        },
    };
}
