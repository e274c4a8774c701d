using FermentWatch.Oenology.CarbonDioxide;
using FermentWatch.Oenology.Limits;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>Dissolved gas at a temperature, from pressure to level and back.</summary>
internal static class DissolvedGasEntry
{
    private static readonly NumberInput Temperature = new("temperature", "Temperature of the wine", QuantityKind.Temperature, -5, 40);
    private static readonly NumberInput Gauge = new("gauge-pressure", "Pressure on the gauge", QuantityKind.Pressure, 0, 12, Optional: true, Help: "Above the air, all of it carbon dioxide. 0 for wine under an airlock.");
    private static readonly NumberInput Volumes = new("gas-volumes", "Level wanted, in volumes", QuantityKind.Ratio, 0, 8, Optional: true, Help: "Liters of gas at 0 °C in a liter.");

    private static readonly NumberOutput Dissolved = new("dissolved", "Carbon dioxide dissolved", QuantityKind.Dose, 2);
    private static readonly NumberOutput InVolumes = new("volumes", "the same in volumes", QuantityKind.Ratio, 2);
    private static readonly NumberOutput PressureOutput = new("pressure", "Pressure on the gauge", QuantityKind.Pressure, 2);
    private static readonly NumberOutput Saturation = new("saturation", "Held by wine under an airlock", QuantityKind.Dose, 2);

    /// <summary>The entry.</summary>
    public static Worksheet Sheet { get; } = new()
    {
        Name = "carbonation",
        Subject = WorksheetSubject.CarbonDioxide,
        Title = "Carbonation: level and pressure",
        Purpose = "How much carbon dioxide wine or mead holds at a temperature, from the pressure, from grams or from volumes. Give one of the three; without any, the wine under an airlock.",
        Inputs = [Temperature, GasFields.Alcohol, GasFields.Sugar, Gauge, GasFields.Measured, Volumes],
        Outputs = [Dissolved, InVolumes, PressureOutput, Saturation],
        Sources = GasFields.Sources,
        Cautions = [Caution.BottlePressure],
        Examples =
        [
            WorkedExample.Of("temperature=20 alcohol=12", "method of analysis OIV-MA-AS314-01 at one atmosphere", new("saturation", 1.463, 0.01), new("dissolved", 1.463, 0.01)),
            WorkedExample.Of("temperature=10 alcohol=12.5 sugar=10 carbon-dioxide=11", "computed by hand: 11 / 1.980 - 1.013", new ExpectedResult("pressure", 4.54, 0.02)),
            WorkedExample.Of("temperature=20 alcohol=0 gas-volumes=0.849", "method of analysis: 0.849 volumes at 1 bar", new ExpectedResult("dissolved", 1.678, 0.01)),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var (gauge, grams, volumes) = (values.Maybe(Gauge), values.Maybe(GasFields.Measured), values.Maybe(Volumes));
        if (new[] { gauge, grams, volumes }.Count(one => one is not null) > 1)
        {
            throw values.Wrong(gauge is not null ? Gauge : Volumes, "left empty when another of pressure, grams and volumes is given");
        }

        var (temperature, alcohol) = (values.Temperature(Temperature), values.Alcohol(GasFields.Alcohol));
        var sugar = SugarConcentration.FromGramsPerLiter(values.Of(GasFields.Sugar));
        var dissolved = grams is { } given ? Exactly(MassConcentration.FromGramsPerLiter(given))
            : volumes is { } level ? Exactly(CarbonDioxideSolubility.OfVolumes(level))
            : CarbonDioxideSolubility.Dissolved(Pressure.FromGaugeBar(gauge ?? 0), temperature, alcohol, sugar);
        var pressure = CarbonDioxideSolubility.PressureOf(dissolved.Value, temperature, alcohol, sugar);
        var notices = new List<WorksheetNotice>();
        GasFields.NoteExtrapolated(notices, pressure.Validity);
        if (pressure.Value.GaugeBar >= 1)
        {
            notices.Add(WorksheetNotice.Warning("under-pressure", "From 1 bar on only in a keg or in bottles whose maker rates them for more than this, also for the warmest day."));
        }

        return new(
            [
                Dissolved.Is(dissolved.Value.GramsPerLiter, dissolved.Tolerance / 1000, dissolved.Validity),
                InVolumes.Is(CarbonDioxideSolubility.VolumesOf(dissolved.Value)),
                PressureOutput.Is(pressure.Value.GaugeBar, pressure.Tolerance, pressure.Validity),
                Saturated(CarbonDioxideSolubility.Saturation(temperature, alcohol, sugar)),
            ],
            notices);
    }

    private static NumberResult Saturated(Computed<MassConcentration> saturation) => Saturation.Is(saturation.Value.GramsPerLiter, saturation.Tolerance / 1000, saturation.Validity);

    private static Computed<MassConcentration> Exactly(MassConcentration value) => new(value, 0, Validity.WithinSource);
}
