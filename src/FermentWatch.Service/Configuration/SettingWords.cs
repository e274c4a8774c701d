using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Configuration;

/// <summary>The words that stand for one of several things in the configuration. Capitals do not matter.</summary>
internal static class SettingWords
{
    public static IReadOnlyDictionary<string, QuantityKind> Quantities { get; } = Words(
        ("gravity", QuantityKind.Gravity),
        ("temperature", QuantityKind.Temperature),
        ("gas-pulses", QuantityKind.GasPulses),
        ("pH", QuantityKind.Acidity),
        ("pressure", QuantityKind.Pressure),
        ("battery", QuantityKind.Battery),
        ("signal", QuantityKind.Signal),
        ("room-CO2", QuantityKind.RoomCarbonDioxide),
        ("inclination", QuantityKind.Inclination),
        ("vessel-mass", QuantityKind.VesselMass));

    /// <summary>The word of a quantity, in lower case.</summary>
    public static string QuantityWord(QuantityKind quantity) => Of(quantity).ToLowerInvariant();

    /// <summary>The first word of a unit is the one that is shown.</summary>
    public static IReadOnlyDictionary<string, MeasurementUnit> Units { get; } = Words(
        ("SG", MeasurementUnit.SpecificGravity),
        ("points", MeasurementUnit.GravityPoints),
        ("°P", MeasurementUnit.DegreesPlato),
        ("Plato", MeasurementUnit.DegreesPlato),
        ("°Bx", MeasurementUnit.DegreesBrix),
        ("Brix", MeasurementUnit.DegreesBrix),
        ("kg/m³", MeasurementUnit.KilogramsPerCubicMeter),
        ("kg/m3", MeasurementUnit.KilogramsPerCubicMeter),
        ("°C", MeasurementUnit.DegreesCelsius),
        ("C", MeasurementUnit.DegreesCelsius),
        ("°F", MeasurementUnit.DegreesFahrenheit),
        ("F", MeasurementUnit.DegreesFahrenheit),
        ("K", MeasurementUnit.Kelvin),
        ("pulses/min", MeasurementUnit.PulsesPerMinute),
        ("pH", MeasurementUnit.PH),
        ("kPa", MeasurementUnit.Kilopascals),
        ("bar", MeasurementUnit.Bar),
        ("V", MeasurementUnit.Volts),
        ("%", MeasurementUnit.Percent),
        ("dBm", MeasurementUnit.DecibelMilliwatts),
        ("ppm", MeasurementUnit.PartsPerMillion),
        ("°", MeasurementUnit.Degrees),
        ("degrees", MeasurementUnit.Degrees),
        ("kg", MeasurementUnit.Kilograms),
        ("g", MeasurementUnit.Grams),
        ("lb", MeasurementUnit.Pounds));

    public static IReadOnlyDictionary<string, TimeFormat> TimeFormats { get; } = Words(
        ("iso8601", TimeFormat.Iso8601),
        ("unix-seconds", TimeFormat.UnixSeconds),
        ("unix-milliseconds", TimeFormat.UnixMilliseconds));

    public static IReadOnlyDictionary<string, FermentKind> Kinds { get; } = Words(
        ("wine", FermentKind.Wine),
        ("mead", FermentKind.Mead),
        ("cider", FermentKind.Cider));

    public static IReadOnlyDictionary<string, Placement> Placements { get; } = Words(
        ("in-liquid", Placement.InLiquid),
        ("insulated-on-glass", Placement.InsulatedOnGlass),
        ("bare-glass", Placement.BareGlass),
        ("room", Placement.Room));

    public static IReadOnlyDictionary<string, BrokerMode> Modes { get; } = Words(
        ("embedded", BrokerMode.Embedded),
        ("external", BrokerMode.External));

    /// <summary>Word of a quantity.</summary>
    public static string Of(QuantityKind quantity) => Quantities.First(word => word.Value == quantity).Key;

    /// <summary>Word of a unit.</summary>
    public static string Of(MeasurementUnit unit) => Units.First(word => word.Value == unit).Key;

    /// <summary>The words of a quantity's units, each in its first spelling.</summary>
    public static string UnitsOf(QuantityKind quantity) => OneOf(UnitConversion.UnitsOf(quantity).Select(Of));

    /// <summary>A list of words as it stands in a sentence.</summary>
    public static string OneOf(IEnumerable<string> words)
    {
        var all = words.Select(word => $"'{word}'").ToList();
        return all.Count < 2 ? string.Concat(all) : $"{string.Join(", ", all.Take(all.Count - 1))} or {all[^1]}";
    }

    private static OrderedDictionary<string, T> Words<T>(params (string Word, T Meaning)[] words)
    {
        var table = new OrderedDictionary<string, T>(StringComparer.OrdinalIgnoreCase);
        foreach (var (word, meaning) in words)
        {
            table.Add(word, meaning);
        }

        return table;
    }
}
