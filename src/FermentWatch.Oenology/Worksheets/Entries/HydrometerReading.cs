using FermentWatch.Oenology.Density;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>What a hydrometer will show away from its temperature.</summary>
internal static class HydrometerReading
{
    private static readonly NumberInput Gravity = new("expected-gravity", "Gravity 20/20 °C to check against", QuantityKind.Gravity, 0.980, 1.170, Help: "Such as the one predicted after sweetening.");
    private static readonly NumberInput Temperature = new("temperature", "Temperature of the must or wine", QuantityKind.Temperature, 0, 40);
    private static readonly NumberOutput Reading = new("reading", "What the hydrometer should show", QuantityKind.Gravity, 4);

    public static Worksheet Sheet { get; } = new()
    {
        Name = "hydrometer-reading",
        Subject = WorksheetSubject.Gravity,
        Title = "What the hydrometer should show",
        Purpose = "The reading that a gravity gives at another temperature: to check a mix in the cellar against a number reckoned for 20 °C. Degas first: gas lifts the hydrometer.",
        Inputs = [Gravity, Temperature, HydrometerCorrection.Calibration, HydrometerCorrection.Alcohol],
        Outputs = [Reading],
        Sources = HydrometerCorrection.Sources,
        Cautions = [],
        Examples =
        [
            WorkedExample.Of("expected-gravity=1.0831 temperature=30", "computed by a second program: a reading of 1.080 is corrected by 0.0031", new ExpectedResult("reading", 1.0800, 0.0001)),
            WorkedExample.Of("expected-gravity=1.0150 temperature=25 alcohol=12", "computed by a second program: 12 % vol with 80 g/L extract shows 1.0135", new ExpectedResult("reading", 1.0135, 0.0004)),
        ],
        Compute = values => new WorksheetAnswer(
            [Reading.Is(Hydrometer.ReadingOf(values.Gravity(Gravity), values.Temperature(HydrometerCorrection.Calibration), values.Temperature(Temperature), values.Alcohol(HydrometerCorrection.Alcohol)), reading => reading.Value)],
            HydrometerCorrection.Notices(values.Gravity(Gravity), values.Of(HydrometerCorrection.Alcohol))),
    };
}
