using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>One run over a batch: all that it may know about the present.</summary>
/// <param name="Now">The wall clock, read once.</param>
/// <param name="Listening">
/// How long messages could reach us since the last pass, by a monotonic clock: zero or more. Our own downtime and a lost broker
/// add nothing, so neither counts as silence of a sensor; a jump of the wall clock changes nothing.
/// </param>
/// <param name="Zone">The reader's zone.</param>
/// <param name="ClockTrusted">False while the wall clock may be wrong by hours or years.</param>
public sealed record Pass(ReceivedAt Now, TimeSpan Listening, TimeZoneInfo Zone, bool ClockTrusted = true)
{
    /// <summary>Whether no message can reach us because the broker is not there.</summary>
    public bool IsBrokerLost { get; init; }

    /// <summary>
    /// The shortest silence of a sensor of another batch that is over its limit, or null: a silence here of about that length
    /// likely has the same cause.
    /// </summary>
    public TimeSpan? SilentElsewhere { get; init; }

    /// <summary>True until a pass of this run was kept: what lies between it and the last one on disk is our own absence.</summary>
    public bool IsFirst { get; init; }
}
