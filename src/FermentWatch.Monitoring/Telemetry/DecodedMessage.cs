namespace FermentWatch.Monitoring.Telemetry;

/// <summary>A number that was taken.</summary>
/// <param name="Quantity">What it is about.</param>
/// <param name="Unit">The unit in which the device sent it.</param>
/// <param name="Raw">The number as sent.</param>
/// <param name="Value">The number in the unit in which the quantity is kept.</param>
public sealed record AcceptedField(QuantityKind Quantity, MeasurementUnit Unit, double Raw, double Value);

/// <summary>A number that was not taken.</summary>
/// <param name="Quantity">What it would have been about.</param>
/// <param name="Unit">The unit that the mapping gives it.</param>
/// <param name="Why">A code of <see cref="DecodeReasons"/> with its values.</param>
public sealed record RejectedField(QuantityKind Quantity, MeasurementUnit Unit, Reason Why);

/// <summary>What became of a message.</summary>
public enum DecodeOutcome
{
    /// <summary>Every field was taken.</summary>
    Accepted = 1,

    /// <summary>Some fields were taken.</summary>
    PartlyAccepted = 2,

    /// <summary>No field was taken.</summary>
    Rejected = 3,
}

/// <summary>What a message says under a mapping. Every field of the mapping is in one of the two lists, in the mapping's order.</summary>
/// <param name="Sensor">The sensor; null when the topic gives no usable name, and then nothing is accepted.</param>
/// <param name="Accepted">Numbers taken.</param>
/// <param name="Rejected">Numbers not taken, each with its reason: one bad field does not cost its siblings.</param>
/// <param name="DeviceTime">The device's own time; null when none is mapped or it could not be taken: then the arrival counts.</param>
/// <param name="TimeRejected">Why the device's time was not taken; null when it was, or none is mapped.</param>
public sealed record DecodedMessage(
    SensorId? Sensor,
    ValueList<AcceptedField> Accepted,
    ValueList<RejectedField> Rejected,
    EventTime? DeviceTime,
    Reason? TimeRejected)
{
    /// <summary>All, some or none of the fields.</summary>
    public DecodeOutcome Outcome => (Accepted.Count, Rejected.Count) switch
    {
        (0, _) => DecodeOutcome.Rejected,
        (_, 0) => DecodeOutcome.Accepted,
        _ => DecodeOutcome.PartlyAccepted,
    };
}
