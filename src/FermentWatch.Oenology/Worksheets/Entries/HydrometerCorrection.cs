using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets.Entries;

/// <summary>A hydrometer away from its temperature.</summary>
internal static class HydrometerCorrection
{
    public static readonly NumberInput Calibration = new("calibration-temperature", "Temperature the scale is made for", QuantityKind.Temperature, 10, 25, 20, Help: "On the glass: 20 °C, or 60 °F.");
    public static readonly NumberInput Alcohol = new("alcohol", "Alcohol", QuantityKind.Alcohol, 0, 20, 0, Help: "Of wine or a ferment; 0 for must. Alcohol expands more than sugar water.");

    public static readonly IReadOnlyList<WorksheetSource> Sources =
    [
        WorksheetSource.Published("ISO1768", "expansion of the glass"),
        WorksheetSource.Published("Bubnik1995", "expansion of sugar water"),
        WorksheetSource.Published("OIMLR22", "expansion of ethanol and water"),
        WorksheetSource.Published("Tanaka2001", "density of water"),
    ];

    private static readonly NumberInput Reading = new("reading", "What the hydrometer shows", QuantityKind.Gravity, 0.980, 1.170);
    private static readonly NumberInput Temperature = new("temperature", "Temperature of the must or wine", QuantityKind.Temperature, 0, 40);
    private static readonly NumberOutput Gravity = new("gravity", "Specific gravity 20/20 °C", QuantityKind.Gravity, 4);

    public static Worksheet Sheet { get; } = new()
    {
        Name = "hydrometer-correction",
        Subject = WorksheetSubject.Gravity,
        Title = "Correct a hydrometer for temperature",
        Purpose = "The gravity at 20 °C of a must or wine read at another temperature, with its own expansion and not water's. For wine this is a model that no published table was found for.",
        Inputs = [Reading, Temperature, Calibration, Alcohol],
        Outputs = [Gravity],
        Sources = Sources,
        Cautions = [],
        Examples =
        [
            WorkedExample.Of("reading=1.080 temperature=30", "computed by a second program: 1.080 + 0.0031", new ExpectedResult("gravity", 1.0831, 0.0001)),
            WorkedExample.Of("reading=0.9937 temperature=10 alcohol=12", "computed by a second program: 12 % vol with 20 g/L extract is 0.9919", new ExpectedResult("gravity", 0.9919, 0.0004)),
            WorkedExample.Saying("reading=0.996 temperature=10", "below 1.000 there must be alcohol", "say-alcohol"),
        ],
        Compute = Compute,
    };

    private static WorksheetAnswer Compute(WorksheetValues values)
    {
        var gravity = Hydrometer.GravityOf(values.Gravity(Reading), values.Temperature(Calibration), values.Temperature(Temperature), values.Alcohol(Alcohol));
        return new WorksheetAnswer([Gravity.Is(gravity, one => one.Value)], Notices(gravity.Value, values.Of(Alcohol)));
    }

    /// <summary>What is said to a gravity that only alcohol can make.</summary>
    public static IReadOnlyList<WorksheetNotice> Notices(SpecificGravity gravity, double alcohol) => gravity.Value < 1 && alcohol <= 0
        ? [WorksheetNotice.Warning("say-alcohol", $"Below 1.000 there is alcohol in it: say how much, or {new Amount(10, "°C", QuantityKind.TemperatureDifference):0} away from 20 °C the correction is up to 0.0005 too small.")]
        : [];
}
