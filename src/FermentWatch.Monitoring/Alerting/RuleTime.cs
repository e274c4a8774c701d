using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>A point on the time line on which a rule lives: event time for a rule on samples, time listened for a rule on ticks.</summary>
/// <param name="Microseconds">Since the line's own zero.</param>
public readonly record struct RuleTime(long Microseconds)
{
    /// <summary>A point of a rule on samples.</summary>
    public static RuleTime Of(EventTime at) => new(at.UnixMicroseconds);

    /// <summary>A point of a rule on ticks.</summary>
    public static RuleTime Of(TimeSpan listened) => new(listened.Ticks / TimeSpan.TicksPerMicrosecond);

    /// <summary>The event time of a point of a rule on samples.</summary>
    public EventTime ToEventTime() => new(Microseconds);

    /// <summary>Time from <paramref name="right"/> to <paramref name="left"/>.</summary>
    public static TimeSpan operator -(RuleTime left, RuleTime right) => TimeSpan.FromMicroseconds(left.Microseconds - right.Microseconds);
}
