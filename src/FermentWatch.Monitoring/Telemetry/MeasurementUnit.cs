namespace FermentWatch.Monitoring.Telemetry;

/// <summary>The unit in which a device sends a number. Stored by number: never renumber.</summary>
public enum MeasurementUnit
{
    /// <summary>Specific gravity 20/20, such as 1.090.</summary>
    SpecificGravity = 1,

    /// <summary>Thousandths above water, such as 90 for 1.090.</summary>
    GravityPoints = 2,

    /// <summary>°Plato of a sucrose solution of the same density.</summary>
    DegreesPlato = 3,

    /// <summary>°Brix of a sucrose solution of the same density.</summary>
    DegreesBrix = 4,

    /// <summary>Density at 20 °C in kg/m³.</summary>
    KilogramsPerCubicMeter = 5,

    /// <summary>°C.</summary>
    DegreesCelsius = 10,

    /// <summary>°F.</summary>
    DegreesFahrenheit = 11,

    /// <summary>K.</summary>
    Kelvin = 12,

    /// <summary>Pulses a minute.</summary>
    PulsesPerMinute = 20,

    /// <summary>pH.</summary>
    PH = 30,

    /// <summary>kPa above the atmosphere.</summary>
    Kilopascals = 40,

    /// <summary>bar above the atmosphere.</summary>
    Bar = 41,

    /// <summary>Volts.</summary>
    Volts = 50,

    /// <summary>Percent of a full battery.</summary>
    Percent = 51,

    /// <summary>dBm.</summary>
    DecibelMilliwatts = 60,

    /// <summary>Parts per million by volume.</summary>
    PartsPerMillion = 70,

    /// <summary>Degrees of an angle.</summary>
    Degrees = 80,

    /// <summary>kg.</summary>
    Kilograms = 90,

    /// <summary>g.</summary>
    Grams = 91,

    /// <summary>lb (avoirdupois), 0.45359237 kg.</summary>
    Pounds = 92,
}
