using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Forecasts between table and type.</summary>
internal static class ForecastRows
{
    /// <summary>What was said at an event time: the newest grid line up to it, as it was first made within a day; null where nothing was.</summary>
    public static ForecastRecord? Said(ReadConnection read, string batch, long at) => read
        .Statement("SELECT as_of, engine_version, prior, made_at, quantiles FROM forecast WHERE batch = ?1 AND as_of <= ?2 AND made_at <= as_of + 86400000000 ORDER BY as_of DESC, made_at LIMIT 1")
        .List(
            row => new ForecastRecord(new EventTime(row.GetInt64(0)), row.GetString(1), row.GetString(2), new ReceivedAt(row.GetInt64(3)), row.GetString(4)),
            batch,
            at)
        .FirstOrDefault();

    /// <summary>Forecasts of a batch whose grid line lies between two event times, both included, by grid line, then by when they were made.</summary>
    public static List<ForecastRecord> Between(ReadConnection read, string batch, long from, long until) => read
        .Statement("SELECT as_of, engine_version, prior, made_at, quantiles FROM forecast WHERE batch = ?1 AND as_of >= ?2 AND as_of <= ?3 ORDER BY as_of, made_at")
        .List(
            row => new ForecastRecord(new EventTime(row.GetInt64(0)), row.GetString(1), row.GetString(2), new ReceivedAt(row.GetInt64(3)), row.GetString(4)),
            batch,
            from,
            until);
}
