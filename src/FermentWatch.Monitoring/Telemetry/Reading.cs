namespace FermentWatch.Monitoring.Telemetry;

/// <summary>One stored sample of one series: a fact.</summary>
/// <remarks>
/// A reading with a device time is unique by series and event time; the same time again with another value is a correction,
/// and the highest <see cref="Sequence"/> counts. Bare numbers (no device time) are each a reading of their own.
/// </remarks>
/// <param name="At">Event time: the device's own, repaired when its clock was not trusted; else the arrival.</param>
/// <param name="Sequence">Arrival number of the message over the life of the store; part of the fact.</param>
/// <param name="DeviceTime">The raw stamp that the device sent, never changed; null when it sent none.</param>
/// <param name="ReceivedAt">Arrival on our clock.</param>
/// <param name="Raw">The number as the device sent it.</param>
/// <param name="Value">The number in the unit in which its <see cref="QuantityKind"/> is kept.</param>
/// <param name="ClockTrusted">False when the event time had to be repaired from the order of arrival.</param>
public readonly record struct Reading(
    EventTime At,
    long Sequence,
    EventTime? DeviceTime,
    ReceivedAt ReceivedAt,
    double Raw,
    double Value,
    bool ClockTrusted)
{
    /// <summary>Where the value stands towards the calibration it went through.</summary>
    public CalibrationReach Reach { get; init; }
}

/// <summary>Where a value stands towards the points of its calibration.</summary>
public enum CalibrationReach
{
    /// <summary>No calibration, or between its points.</summary>
    Within = 0,

    /// <summary>A little outside the points: computed, and marked.</summary>
    Extrapolated = 1,

    /// <summary>Too far outside the points: set aside.</summary>
    Beyond = 2,
}

/// <summary>The readings of one series, in any order.</summary>
/// <param name="Series">Which stream.</param>
/// <param name="Readings">The facts; the order does not matter to anything that reads them.</param>
public sealed record SeriesReadings(SeriesKey Series, IReadOnlyList<Reading> Readings);
