namespace FermentWatch.Monitoring.Telemetry;

/// <summary>One number in a message: where it stands, what it is about, and its unit.</summary>
public sealed record FieldMapping
{
    /// <summary>Builds a field.</summary>
    /// <param name="source">Where in a JSON message; null when the whole message is a plain number.</param>
    /// <param name="quantity">What the number is about.</param>
    /// <param name="unit">The unit in which the device sends it.</param>
    /// <exception cref="ArgumentException">The unit does not measure the quantity.</exception>
    public FieldMapping(JsonPointer? source, QuantityKind quantity, MeasurementUnit unit)
    {
        if (UnitConversion.QuantityOf(unit) != quantity)
        {
            throw new ArgumentException($"{unit} does not measure {quantity}; allowed: {string.Join(", ", UnitConversion.UnitsOf(quantity))}.", nameof(unit));
        }

        (Source, Quantity, Unit) = (source, quantity, unit);
    }

    /// <summary>Where in a JSON message; null when the whole message is a plain number.</summary>
    public JsonPointer? Source { get; }

    /// <summary>What the number is about.</summary>
    public QuantityKind Quantity { get; }

    /// <summary>The unit in which the device sends it.</summary>
    public MeasurementUnit Unit { get; }
}

/// <summary>How a device writes the time of its sample.</summary>
public enum TimeFormat
{
    /// <summary>Date and time with Z or an offset, such as 2026-03-14T09:26:53+01:00 (RFC 3339).</summary>
    Iso8601 = 1,

    /// <summary>Seconds since 1970-01-01T00:00:00Z; a fraction is kept to the microsecond.</summary>
    UnixSeconds = 2,

    /// <summary>Milliseconds since 1970-01-01T00:00:00Z.</summary>
    UnixMilliseconds = 3,
}

/// <summary>Where in a JSON message the device's own time of the sample stands.</summary>
/// <param name="Source">Where.</param>
/// <param name="Format">How it is written.</param>
public sealed record TimeMapping(JsonPointer Source, TimeFormat Format);

/// <summary>Which messages are readings, of which sensor, and what their numbers mean.</summary>
public sealed record TopicMapping
{
    /// <summary>Builds a mapping.</summary>
    /// <param name="sensor">Name of the sensor; {1}, {2}, ... stand for the first, second, ... wildcard level of the filter.</param>
    /// <param name="filter">Topics meant.</param>
    /// <param name="fields">At least one; each quantity at most once.</param>
    /// <param name="time">The device's own time, or null when it sends none: then the arrival counts.</param>
    /// <exception cref="FormatException">The sensor's name is unusable, or names a wildcard level that the filter lacks.</exception>
    /// <exception cref="ArgumentException">No field, or two of one quantity.</exception>
    public TopicMapping(string sensor, TopicFilter filter, ValueList<FieldMapping> fields, TimeMapping? time)
    {
        ArgumentNullException.ThrowIfNull(filter);
        ArgumentNullException.ThrowIfNull(fields);
        Template = SensorTemplate.Parse(sensor, filter.WildcardLevels);
        if (fields.Count == 0)
        {
            throw new ArgumentException("A mapping has at least one field.", nameof(fields));
        }

        if (fields.GroupBy(field => field.Quantity).FirstOrDefault(group => group.Count() > 1) is { } twice)
        {
            throw new ArgumentException($"A mapping has each quantity once; {twice.Key} is there {twice.Count()} times.", nameof(fields));
        }

        (Filter, Fields, Time) = (filter, fields, time);
    }

    /// <summary>Name of the sensor as written, with its places for wildcard levels.</summary>
    public string Sensor => Template.Text;

    /// <summary>Topics meant.</summary>
    public TopicFilter Filter { get; }

    /// <summary>The numbers in a message.</summary>
    public ValueList<FieldMapping> Fields { get; }

    /// <summary>The device's own time, or null when it sends none.</summary>
    public TimeMapping? Time { get; }

    private SensorTemplate Template { get; }

    /// <summary>The sensor of a topic; null when the topic is not meant or gives no usable name.</summary>
    public SensorId? SensorOf(string topic) => Filter.Captures(topic) is { } captures ? Template.Fill(captures, out _) : null;

    /// <summary>Fills the sensor's name from what the wildcard levels stand for; null when the result is unusable.</summary>
    internal SensorId? Name(ValueList<string> captures, out string filled) => Template.Fill(captures, out filled);
}
