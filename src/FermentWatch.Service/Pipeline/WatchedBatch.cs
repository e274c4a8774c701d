using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Pipeline;

/// <summary>How often the monitor looks.</summary>
/// <param name="Shortest">Pause between two passes: what comes in meanwhile is taken together.</param>
/// <param name="Longest">A pass follows after this even when nothing came in. Silence must be noticed.</param>
public sealed record MonitorPace(TimeSpan Shortest, TimeSpan Longest)
{
    /// <summary>For sensors that send every few minutes.</summary>
    public static MonitorPace Usual { get; } = new(TimeSpan.FromSeconds(1), TimeSpan.FromSeconds(30));

    /// <summary>For the demo's short days.</summary>
    public static MonitorPace Demo { get; } = new(TimeSpan.FromMilliseconds(500), TimeSpan.FromSeconds(1));
}

/// <summary>A batch as the monitor last saw it.</summary>
/// <param name="Id">The batch.</param>
/// <param name="Revision">Revision of the facts.</param>
/// <param name="View">What they say.</param>
/// <param name="Alerts">Its alerts.</param>
/// <param name="LookedAt">When the facts were read.</param>
/// <param name="Recorded">Grid line of the forecast that was last kept; null before the first.</param>
public sealed record WatchedBatch(BatchId Id, long Revision, BatchView View, AlertSet Alerts, EventTime LookedAt, EventTime? Recorded)
{
    private static readonly TimeSpan LongestHeld = TimeSpan.FromMinutes(5);

    /// <summary>Whether the view of untouched facts still says what a new one would: no new grid line, and not for long.</summary>
    public bool HoldsAt(EventTime now) =>
        now - LookedAt < LongestHeld && now >= LookedAt && BatchAnalysis.GridLine(now) == BatchAnalysis.GridLine(LookedAt);

    /// <summary>The same, told at a later moment.</summary>
    public WatchedBatch At(EventTime now) => this with { View = View with { Now = now } };
}
