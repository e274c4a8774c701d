using System.Globalization;

namespace FermentWatch.Monitoring.Telemetry;

/// <summary>When a sample was taken, on the time line of the samples (UTC). Not the time at which it reached us: see <see cref="ReceivedAt"/>.</summary>
/// <param name="UnixMicroseconds">Microseconds since 1970-01-01T00:00:00Z.</param>
public readonly record struct EventTime(long UnixMicroseconds) : IComparable<EventTime>
{
    /// <summary>Builds from a date and time; anything finer than a microsecond is dropped.</summary>
    public static EventTime From(DateTimeOffset time) => new(Microseconds.Of(time));

    /// <summary>The same instant as a date and time with offset zero.</summary>
    public DateTimeOffset ToDateTimeOffset() => Microseconds.ToDateTimeOffset(UnixMicroseconds);

    /// <inheritdoc/>
    public int CompareTo(EventTime other) => UnixMicroseconds.CompareTo(other.UnixMicroseconds);

    /// <summary>Time from <paramref name="right"/> to <paramref name="left"/>.</summary>
    public static TimeSpan operator -(EventTime left, EventTime right) => TimeSpan.FromMicroseconds(left.UnixMicroseconds - right.UnixMicroseconds);

    /// <summary>A later (or, with a negative span, earlier) event time.</summary>
    public static EventTime operator +(EventTime left, TimeSpan right) => new(left.UnixMicroseconds + (right.Ticks / TimeSpan.TicksPerMicrosecond));

    /// <summary>An earlier event time.</summary>
    public static EventTime operator -(EventTime left, TimeSpan right) => left + -right;

    /// <summary>Earlier than.</summary>
    public static bool operator <(EventTime left, EventTime right) => left.UnixMicroseconds < right.UnixMicroseconds;

    /// <summary>Later than.</summary>
    public static bool operator >(EventTime left, EventTime right) => left.UnixMicroseconds > right.UnixMicroseconds;

    /// <summary>Earlier than or equal.</summary>
    public static bool operator <=(EventTime left, EventTime right) => left.UnixMicroseconds <= right.UnixMicroseconds;

    /// <summary>Later than or equal.</summary>
    public static bool operator >=(EventTime left, EventTime right) => left.UnixMicroseconds >= right.UnixMicroseconds;

    /// <summary>ISO 8601 in UTC, for logs and tests.</summary>
    public override string ToString() => ToDateTimeOffset().ToString("yyyy-MM-ddTHH:mm:ss.FFFFFF'Z'", CultureInfo.InvariantCulture);
}
