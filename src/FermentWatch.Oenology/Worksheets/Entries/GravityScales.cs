using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>A gravity in every scale.</summary>
internal static class GravityScales
{
    private static readonly NumberInput Gravity = new("present-gravity", "Gravity or extract", QuantityKind.Gravity, 0.970, 1.400, Optional: true, Help: "One of these fields is needed.");
    private static readonly NumberInput Oechsle = new("oechsle", "°Oechsle", QuantityKind.Oechsle, -30, 400, Optional: true);
    private static readonly NumberInput Baume = new("baume", "°Baumé", QuantityKind.Baume, -4, 41, Optional: true);
    private static readonly NumberInput Density = new("density", "Density at 20 °C", QuantityKind.Density, 970, 1390, Optional: true);
    private static readonly NumberOutput Sg = new("gravity", "Specific gravity 20/20 °C", QuantityKind.Gravity, 4);
    private static readonly NumberOutput Plato = new("plato", "°Plato, °Brix by hydrometer", QuantityKind.Extract20, 2);
    private static readonly NumberOutput Grams = new("extract", "Extract as sucrose; not sugar once alcohol is there", QuantityKind.SugarConcentration, 1);
    private static readonly NumberOutput OechsleOut = new("oechsle-out", "°Oechsle", QuantityKind.Oechsle, 1);
    private static readonly NumberOutput BaumeOut = new("baume-out", "°Baumé", QuantityKind.Baume, 2);
    private static readonly NumberOutput DensityOut = new("density-out", "Density at 20 °C", QuantityKind.Density, 1);

    public static Worksheet Sheet { get; } = new()
    {
        Name = "gravity-scales",
        Subject = WorksheetSubject.Gravity,
        Title = "A gravity in every scale",
        Purpose = "One gravity as specific gravity, °Plato, grams of extract in a liter, °Oechsle, °Baumé and density. A final gravity is never residual sugar: alcohol is lighter than water and hides it.",
        Inputs = [Gravity, Oechsle, Baume, Density],
        Outputs = [Sg, Plato, Grams, OechsleOut, BaumeOut, DensityOut],
        Sources = [WorksheetSource.Published("Bubnik1995", "density of sucrose solutions"), WorksheetSource.FromMemory("°Bé = 145 - 145/SG")],
        Cautions = [],
        Examples = [WorkedExample.Of("oechsle=83.0", "[CRC102] 20 % sucrose is 1080.9 to 1081.0 kg/m³, SG 1.0829; 216.2 g/L by hand", new("plato", 20.0, 0.03), new("extract", 216.2, 0.5), new("baume-out", 11.11, 0.02))],
        Compute = values =>
        {
            var gravity = values.Maybe(Gravity) is { } ratio ? SpecificGravity.FromRatio(ratio)
                : values.Maybe(Oechsle) is { } oechsle ? TradeScales.GravityOfOechsle(oechsle)
                : values.Maybe(Baume) is { } baume ? TradeScales.GravityOfBaume(baume)
                : GravityUnits.GravityOf(Quantities.Density.FromKilogramsPerCubicMeter(values.Needed(Density, "because no other field is given")));
            return WorksheetAnswer.Of(
                Sg.Is(gravity.Value),
                Plato.Is(SucroseSolution.PlatoOf(gravity), plato => plato.Degrees),
                Grams.Is(SucroseSolution.GramsPerLiterOf(gravity), sugar => sugar.GramsPerLiter),
                OechsleOut.Is(TradeScales.OechsleOf(gravity)),
                BaumeOut.Is(TradeScales.BaumeOf(gravity), 0.1),
                DensityOut.Is(GravityUnits.DensityOf(gravity).KilogramsPerCubicMeter));
        },
    };
}
