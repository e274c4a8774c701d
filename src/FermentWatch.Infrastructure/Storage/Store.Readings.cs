using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Width of the buckets of a roll-up.</summary>
public enum RollupWidth
{
    /// <summary>10 minutes.</summary>
    TenMinutes = 600,

    /// <summary>1 hour.</summary>
    OneHour = 3600,
}

/// <summary>The readings of a series in one stretch of time, summed up.</summary>
/// <param name="Start">Begin of the bucket, a multiple of its width since 1970 in UTC.</param>
/// <param name="Count">Readings in it, 1 or more; a corrected one counts once.</param>
/// <param name="Lowest">Lowest value, in the unit in which the quantity is kept.</param>
/// <param name="Highest">Highest value.</param>
/// <param name="Sum">Sum of the values.</param>
public readonly record struct RollupBucket(EventTime Start, int Count, double Lowest, double Highest, double Sum)
{
    /// <summary>Mean of the values.</summary>
    public double Mean => Sum / Count;
}

/// <summary>How much of a series there is and when it was last heard.</summary>
/// <param name="Series">Which stream.</param>
/// <param name="Readings">Stored readings, corrections included.</param>
/// <param name="LastAt">Newest event time, or null when all that came was known already.</param>
/// <param name="LastReceivedAt">When anything of it last reached us, repeats included.</param>
public sealed record SeriesSummary(SeriesKey Series, long Readings, EventTime? LastAt, ReceivedAt? LastReceivedAt);

/// <summary>Readings, raw and rolled up.</summary>
public sealed partial class Store
{
    /// <summary>Readings of a series in [from, until), ordered by event time, then arrival.</summary>
    /// <param name="series">Which stream.</param>
    /// <param name="from">First event time.</param>
    /// <param name="until">End, exclusive.</param>
    /// <param name="withSuperseded">True for all facts; false leaves out values that a later message corrected.</param>
    public IReadOnlyList<Reading> ReadReadings(SeriesKey series, EventTime from, EventTime until, bool withSuperseded = false) =>
        _reads.Read<IReadOnlyList<Reading>>(read =>
            ReadingRows.Number(read, series) is { } number ? ReadingRows.Of(read, number, from, until, withSuperseded) : []);

    /// <summary>Buckets of a series that begin in [from, until), in time order; stretches without a reading have none.</summary>
    public IReadOnlyList<RollupBucket> ReadRollups(SeriesKey series, RollupWidth width, EventTime from, EventTime until) =>
        _reads.Read<IReadOnlyList<RollupBucket>>(read => ReadingRows.Number(read, series) is not { } number
            ? []
            : read.Statement("SELECT start, n, min, max, sum FROM rollup WHERE series = ?1 AND width = ?2 AND start >= ?3 AND start < ?4 ORDER BY start")
                .List(
                    row => new RollupBucket(new EventTime(row.GetInt64(0)), row.GetInt32(1), row.GetDouble(2), row.GetDouble(3), row.GetDouble(4)),
                    number,
                    (int)width,
                    from.UnixMicroseconds,
                    until.UnixMicroseconds));

    /// <summary>All series, by sensor and quantity.</summary>
    public IReadOnlyList<SeriesSummary> ReadSeries() => _reads.Read<IReadOnlyList<SeriesSummary>>(read => read
        .Statement("SELECT sensor, quantity, readings, last_at, last_received FROM series ORDER BY sensor, quantity")
        .List(row => new SeriesSummary(
            new SeriesKey(new SensorId(row.GetString(0)), (QuantityKind)row.GetInt32(1)),
            row.GetInt64(2),
            row.NumberOrNull(3) is { } at ? new EventTime(at) : null,
            row.NumberOrNull(4) is { } received ? new ReceivedAt(received) : null)));
}
