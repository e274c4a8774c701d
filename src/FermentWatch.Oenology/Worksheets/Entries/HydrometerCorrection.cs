using FermentWatch.Oenology.Density;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>A hydrometer away from its temperature.</summary>
internal static class HydrometerCorrection
{
    private static readonly NumberInput Reading = new("reading", "What the hydrometer shows", QuantityKind.Gravity, 0.980, 1.170);
    private static readonly NumberInput Temperature = new("temperature", "Temperature of the must", QuantityKind.Temperature, 0, 40);
    private static readonly NumberInput Calibration = new("calibration-temperature", "Temperature the scale is made for", QuantityKind.Temperature, 10, 25, 20, Help: "On the glass: 20 °C, or 60 °F.");
    private static readonly NumberOutput Gravity = new("gravity", "Specific gravity 20/20 °C", QuantityKind.Gravity, 4);

    public static Worksheet Sheet { get; } = new()
    {
        Name = "hydrometer-correction",
        Subject = WorksheetSubject.Gravity,
        Title = "Correct a hydrometer for temperature",
        Purpose = "The gravity at 20 °C of a must read at another temperature, with the must's own expansion and not water's. In finished wine 10 °C away from 20 it corrects up to 0.0005 too little.",
        Inputs = [Reading, Temperature, Calibration],
        Outputs = [Gravity],
        Sources = [WorksheetSource.Published("ISO1768", "expansion of the glass"), WorksheetSource.Published("Bubnik1995", "expansion of sugar water"), WorksheetSource.Published("Tanaka2001", "density of water")],
        Cautions = [],
        Examples = [WorkedExample.Of("reading=1.080 temperature=30", "computed by a second program: 1.080 + 0.0031", new ExpectedResult("gravity", 1.0831, 0.0001))],
        Compute = values => WorksheetAnswer.Of(Gravity.Is(Hydrometer.GravityOf(values.Gravity(Reading), values.Temperature(Calibration), values.Temperature(Temperature)), gravity => gravity.Value)),
    };
}
