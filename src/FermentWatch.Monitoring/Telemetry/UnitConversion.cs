using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Telemetry;

/// <summary>From the unit in which a device sends a number to the one in which its quantity is kept.</summary>
/// <remarks>
/// Exact for points, °F, K, bar, g and lb. °Plato and °Brix go through <see cref="SucroseSolution.GravityOf"/> (error 0.0001 in specific gravity
/// up to 40 °, a tenth of a hydrometer division), kg/m³ at 20 °C through <see cref="Water.DensityAt"/> (error 0.00001).
/// </remarks>
public static class UnitConversion
{
    private static readonly double WaterAtTwenty = Water.DensityAt(Temperature.FromCelsius(20)).Value.KilogramsPerCubicMeter;

    /// <summary>The number in the unit in which its quantity is kept: SG 20/20, °C, pulses a minute, pH, kPa, dBm, ppm, degrees of inclination, kg; battery in volts or percent as sent.</summary>
    /// <param name="raw">Finite, and for °Plato and °Brix from -12 to 85.</param>
    /// <param name="unit">The unit of <paramref name="raw"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">°Plato or °Brix outside their range, or no such unit.</exception>
    public static double ToCanonical(double raw, MeasurementUnit unit) => unit switch
    {
        MeasurementUnit.GravityPoints => 1 + (raw / 1000),
        MeasurementUnit.DegreesPlato or MeasurementUnit.DegreesBrix => SucroseSolution.GravityOf(Plato.FromDegrees(raw)).Value.Value,
        MeasurementUnit.KilogramsPerCubicMeter => raw / WaterAtTwenty,
        MeasurementUnit.DegreesFahrenheit => (raw - 32) / 1.8,
        MeasurementUnit.Kelvin => raw - 273.15,
        MeasurementUnit.Bar => raw * 100,
        MeasurementUnit.Grams => raw / 1000,
        MeasurementUnit.Pounds => raw * 0.45359237,
        MeasurementUnit.SpecificGravity
            or MeasurementUnit.DegreesCelsius
            or MeasurementUnit.PulsesPerMinute
            or MeasurementUnit.PH
            or MeasurementUnit.Kilopascals
            or MeasurementUnit.Volts
            or MeasurementUnit.Percent
            or MeasurementUnit.DecibelMilliwatts
            or MeasurementUnit.PartsPerMillion
            or MeasurementUnit.Degrees
            or MeasurementUnit.Kilograms => raw,
        _ => throw new ArgumentOutOfRangeException(nameof(unit), unit, "No such unit."),
    };

    /// <summary>The quantity that a unit measures.</summary>
    /// <exception cref="ArgumentOutOfRangeException">No such unit.</exception>
    public static QuantityKind QuantityOf(MeasurementUnit unit) => UnitRow.Of(unit).Quantity;

    /// <summary>The units in which a quantity may be sent, the one in which it is kept first.</summary>
    public static ValueList<MeasurementUnit> UnitsOf(QuantityKind quantity) =>
        ValueList.Of(UnitRow.All.Where(row => row.Quantity == quantity).Select(row => row.Unit));

    /// <summary>The lowest number that is taken in this unit.</summary>
    public static double LowestPlausible(MeasurementUnit unit) => UnitRow.Of(unit).Lowest;

    /// <summary>The highest number that is taken in this unit.</summary>
    public static double HighestPlausible(MeasurementUnit unit) => UnitRow.Of(unit).Highest;

    /// <summary>Whether a number can be what the unit says: finite and inside the range of <see cref="LowestPlausible"/> and <see cref="HighestPlausible"/>.</summary>
    public static bool IsPlausible(double raw, MeasurementUnit unit) => raw >= LowestPlausible(unit) && raw <= HighestPlausible(unit);
}
