using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>A gravity that is part of the curve: from a sensor, moved back after steps, or measured by hand.</summary>
/// <param name="At">When.</param>
/// <param name="Points">Thousandths above water.</param>
/// <param name="ReceivedAt">Arrival; for a hand reading the time at which it was taken.</param>
internal readonly record struct GravitySample(EventTime At, double Points, ReceivedAt ReceivedAt);

/// <summary>A rise of gravity by added sugar. [points]</summary>
internal readonly record struct SugarRise(EventTime At, double Points);
