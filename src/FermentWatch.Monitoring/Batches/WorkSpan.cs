using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches;

/// <summary>A stretch in which somebody works on the vessel: what its sensors say then is about the work, not the ferment.</summary>
/// <param name="From">Begin.</param>
/// <param name="Until">End, exclusive.</param>
public readonly record struct WorkSpan(EventTime From, EventTime Until)
{
    /// <summary>Whether a moment lies in it.</summary>
    public bool Covers(EventTime at) => at >= From && at < Until;
}
