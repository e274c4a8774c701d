namespace FermentWatch.Monitoring.Telemetry;

/// <summary>One unit: what it measures, and between which numbers a reading can be true.</summary>
/// <remarks>
/// <para>The ranges keep out what cannot be (a wrong unit, the error values of sensors); they are no judgment on a ferment.
/// Bounds of one quantity are rounded in each unit, so they differ slightly between units.</para>
/// <para>Gravity: a finished dry wine is about 0.985, the richest honey must about 1.2. Temperature: a garage in winter to a hot-water
/// rinse; 85 °C, which some digital probes send after power-on, and 68 meant in °F are outside. Pressure: full vacuum to ten bar.
/// Room CO2: outdoor air is above 400 ppm; 0 is a sensor that warms up. Inclination: from upright to lying. Vessel mass: an empty scale to a cask. The bounds are common practice, no source.</para>
/// </remarks>
internal sealed record UnitRow(MeasurementUnit Unit, QuantityKind Quantity, double Lowest, double Highest)
{
    public static ValueList<UnitRow> All { get; } = ValueList.Of<UnitRow>(
        new(MeasurementUnit.SpecificGravity, QuantityKind.Gravity, 0.9, 1.3),
        new(MeasurementUnit.GravityPoints, QuantityKind.Gravity, -100, 300),
        new(MeasurementUnit.DegreesPlato, QuantityKind.Gravity, -10, 60),
        new(MeasurementUnit.DegreesBrix, QuantityKind.Gravity, -10, 60),
        new(MeasurementUnit.KilogramsPerCubicMeter, QuantityKind.Gravity, 900, 1300),
        new(MeasurementUnit.DegreesCelsius, QuantityKind.Temperature, -30, 60),
        new(MeasurementUnit.DegreesFahrenheit, QuantityKind.Temperature, -22, 140),
        new(MeasurementUnit.Kelvin, QuantityKind.Temperature, 243.15, 333.15),
        new(MeasurementUnit.PulsesPerMinute, QuantityKind.GasPulses, 0, 6000),
        new(MeasurementUnit.PH, QuantityKind.Acidity, 1, 13),
        new(MeasurementUnit.Kilopascals, QuantityKind.Pressure, -102, 1000),
        new(MeasurementUnit.Bar, QuantityKind.Pressure, -1.02, 10),
        new(MeasurementUnit.Volts, QuantityKind.Battery, 0, 60),
        new(MeasurementUnit.Percent, QuantityKind.Battery, 0, 100),
        new(MeasurementUnit.DecibelMilliwatts, QuantityKind.Signal, -150, 20),
        new(MeasurementUnit.PartsPerMillion, QuantityKind.RoomCarbonDioxide, 100, 100000),
        new(MeasurementUnit.Degrees, QuantityKind.Inclination, 0, 90),
        new(MeasurementUnit.Kilograms, QuantityKind.VesselMass, 0, 2000),
        new(MeasurementUnit.Grams, QuantityKind.VesselMass, 0, 2_000_000),
        new(MeasurementUnit.Pounds, QuantityKind.VesselMass, 0, 4400));

    public static UnitRow Of(MeasurementUnit unit) =>
        All.FirstOrDefault(row => row.Unit == unit) ?? throw new ArgumentOutOfRangeException(nameof(unit), unit, "No such unit.");
}
