using System.Globalization;

namespace FermentWatch.Monitoring.Telemetry;

/// <summary>When something reached us, on the wall clock of this service (UTC). Not the time at which a sample was taken: see <see cref="EventTime"/>.</summary>
/// <param name="UnixMicroseconds">Microseconds since 1970-01-01T00:00:00Z.</param>
public readonly record struct ReceivedAt(long UnixMicroseconds) : IComparable<ReceivedAt>
{
    /// <summary>Builds from a date and time; anything finer than a microsecond is dropped.</summary>
    public static ReceivedAt From(DateTimeOffset time) => new(Microseconds.Of(time));

    /// <summary>The same instant as a date and time with offset zero.</summary>
    public DateTimeOffset ToDateTimeOffset() => Microseconds.ToDateTimeOffset(UnixMicroseconds);

    /// <inheritdoc/>
    public int CompareTo(ReceivedAt other) => UnixMicroseconds.CompareTo(other.UnixMicroseconds);

    /// <summary>Time from <paramref name="right"/> to <paramref name="left"/>.</summary>
    public static TimeSpan operator -(ReceivedAt left, ReceivedAt right) => TimeSpan.FromMicroseconds(left.UnixMicroseconds - right.UnixMicroseconds);

    /// <summary>A later (or, with a negative span, earlier) received time.</summary>
    public static ReceivedAt operator +(ReceivedAt left, TimeSpan right) => new(left.UnixMicroseconds + (right.Ticks / TimeSpan.TicksPerMicrosecond));

    /// <summary>An earlier received time.</summary>
    public static ReceivedAt operator -(ReceivedAt left, TimeSpan right) => left + -right;

    /// <summary>Earlier than.</summary>
    public static bool operator <(ReceivedAt left, ReceivedAt right) => left.UnixMicroseconds < right.UnixMicroseconds;

    /// <summary>Later than.</summary>
    public static bool operator >(ReceivedAt left, ReceivedAt right) => left.UnixMicroseconds > right.UnixMicroseconds;

    /// <summary>Earlier than or equal.</summary>
    public static bool operator <=(ReceivedAt left, ReceivedAt right) => left.UnixMicroseconds <= right.UnixMicroseconds;

    /// <summary>Later than or equal.</summary>
    public static bool operator >=(ReceivedAt left, ReceivedAt right) => left.UnixMicroseconds >= right.UnixMicroseconds;

    /// <summary>ISO 8601 in UTC, for logs and tests.</summary>
    public override string ToString() => ToDateTimeOffset().ToString("yyyy-MM-ddTHH:mm:ss.FFFFFF'Z'", CultureInfo.InvariantCulture);
}
