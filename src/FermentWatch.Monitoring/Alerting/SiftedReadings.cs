using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>What cleaning kept of the gravity readings of a sensor.</summary>
/// <param name="Sensor">The sensor.</param>
/// <param name="Readings">In event order; foam, handling and what came before the yeast are no fault of a sensor and are left out.</param>
public sealed record SiftedReadings(SensorId Sensor, IReadOnlyList<SiftedReading> Readings);

/// <summary>A reading and whether it was set aside.</summary>
/// <param name="At">When it was taken.</param>
/// <param name="IsSetAside">Whether it cannot be, jumped, or lies beyond the calibration.</param>
public readonly record struct SiftedReading(EventTime At, bool IsSetAside);
