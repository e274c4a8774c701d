using FermentWatch.Oenology.CarbonDioxide;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Pressure in a bottle when what is left referments.</summary>
internal static class RefermentationPressure
{
    private static readonly NumberInput Sugar = new("fermentable-sugar", "Sugar that could referment", QuantityKind.SugarConcentration, 0, 60, Help: "Glucose and fructose, measured; all of what was added for sweetness.");
    private static readonly NumberInput Malic = new("malic-acid", "Malic acid that bacteria could turn", QuantityKind.AcidConcentration, 0, 10, Usual: 0);

    private static readonly NumberOutput Start = new("gas-at-filling", "Carbon dioxide at filling", QuantityKind.Dose, 2);
    private static readonly NumberOutput At20 = new("pressure-20", "Gauge pressure at 20 °C", QuantityKind.Pressure, 1);
    private static readonly NumberOutput At30 = new("pressure-30", "Gauge pressure at 30 °C", QuantityKind.Pressure, 1);
    private static readonly TextOutput Class = new("class", "By law at 20 °C");

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "refermentation-pressure",
        Subject = WorksheetSubject.Bottling,
        Title = "Pressure if it referments in the bottle",
        Purpose = "What a closed bottle would have to bear if the sugar left ferments to the end. Still bottles carry no pressure rating: this sheet warns, and never clears a bottle.",
        Inputs = [Sugar, GasFields.Alcohol, GasFields.Coldest, GasFields.Degassed, GasFields.Measured, GasFields.Sugar, Malic, GasFields.Bottle, GasFields.Headspace],
        Outputs = [Start, At20, At30, Class],
        Sources = [.. GasFields.Sources, WorksheetSource.Computed("gas of the sugar by stoichiometry; shut-in air warmed"), WorksheetSource.Published("EU13082013", "classes of sparkling wine"), WorksheetSource.CommonPractice("0.5 g/L left after degassing")],
        Cautions = [Caution.BottlePressure, Caution.SteadyHydrometer],
        Examples =
        [
            WorkedExample.Of("fermentable-sugar=3 alcohol=12 temperature=20 degassed=yes bottle-size=750 headspace=22.5", "computed by a second program: balance of gas, solubility, warmed air", new("pressure-20", 1.31, 0.15), new("pressure-30", 1.81, 0.15)),
            WorkedExample.Of("fermentable-sugar=5 alcohol=12 temperature=20 bottle-size=750 headspace=22.5", "computed by a second program from saturation: 2.61 and 3.53 bar of gas alone, and the warmed air", new("gas-at-filling", 1.46, 0.01), new("pressure-20", 2.61, 0.06), new("pressure-30", 3.56, 0.06)),
            WorkedExample.Saying("fermentable-sugar=0 alcohol=12 temperature=12", "saturated at 12 °C and kept at 30 °C: pressure without any sugar", "still-bottle"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var bottle = GasFields.Closed(values);
        var start = GasFields.Start(values, GasFields.Coldest);
        var gas = ClosedBottle.AfterRefermentation(start.Value, SugarConcentration.FromGramsPerLiter(values.Of(Sugar)), values.Of(Malic));
        var (cool, warm) = (bottle.TotalPressure(gas, Temperature.FromCelsius(20)), bottle.TotalPressure(gas, Temperature.FromCelsius(30)));
        var notices = new List<WorksheetNotice>
        {
            WorksheetNotice.Warning("still-bottle", $"If it referments: {cool.Value.GaugeBar:F1} bar at 20 °C, {warm.Value.GaugeBar:F1} bar at 30 °C. Still bottles carry no pressure rating, so no such figure is small enough: make refermenting impossible, or bottle for pressure on purpose."),
        };
        GasFields.NoteExtrapolated(notices, start.Validity, cool.Validity, warm.Validity);
        return new(
            [
                Start.Is(start.Value.GramsPerLiter, start.Tolerance / 1000, start.Validity),
                At20.Is(cool.Value.GaugeBar, cool.Tolerance, cool.Validity),
                At30.Is(warm.Value.GaugeBar, warm.Tolerance, warm.Validity),
                Class.Is(SparklingClasses.Words(SparklingClasses.Of(cool.Value.GaugeBar))),
            ],
            notices);
    }
}
