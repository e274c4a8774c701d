namespace FermentWatch.Monitoring.Telemetry;

/// <summary>A sensor by the name that the maker gave it in the topic mapping.</summary>
/// <param name="Value">1 to 80 characters.</param>
public readonly record struct SensorId(string Value)
{
    /// <inheritdoc/>
    public override string ToString() => Value;
}

/// <summary>One stream of numbers: a quantity from a sensor.</summary>
/// <param name="Sensor">The sensor.</param>
/// <param name="Quantity">What the numbers are about.</param>
public readonly record struct SeriesKey(SensorId Sensor, QuantityKind Quantity);
