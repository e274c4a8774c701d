namespace FermentWatch.Monitoring.Telemetry;

/// <summary>What a sensor's number is about. Stored by number: never renumber.</summary>
public enum QuantityKind
{
    /// <summary>Gravity of the liquid; kept as specific gravity 20/20.</summary>
    Gravity = 1,

    /// <summary>Temperature of liquid, glass or room; kept in °C.</summary>
    Temperature = 2,

    /// <summary>Gas pulses of an airlock counter; kept in pulses a minute.</summary>
    GasPulses = 3,

    /// <summary>pH.</summary>
    Acidity = 4,

    /// <summary>Pressure above the atmosphere in a closed vessel; kept in kPa.</summary>
    Pressure = 5,

    /// <summary>Battery of the device; kept in volts or percent, as sent.</summary>
    Battery = 6,

    /// <summary>Radio signal strength; kept in dBm.</summary>
    Signal = 7,

    /// <summary>Carbon dioxide in the room's air; kept in ppm. Not a safety alarm.</summary>
    RoomCarbonDioxide = 8,

    /// <summary>Inclination of a floating device from the upright; kept in degrees. A calibration turns it into gravity.</summary>
    Inclination = 9,

    /// <summary>Mass of a vessel with what is in it; kept in kg. What it loses as gas tells the gravity.</summary>
    VesselMass = 10,
}
