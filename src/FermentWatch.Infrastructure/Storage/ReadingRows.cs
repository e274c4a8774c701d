using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using Microsoft.Data.Sqlite;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Readings between table and type.</summary>
internal static class ReadingRows
{
    private const string Columns = "t, n, device_offset, received_offset, raw, value, quality";

    /// <summary>Readings of a series by its number, ordered by event time, then arrival.</summary>
    /// <param name="read">The reader's view.</param>
    /// <param name="series">Number of the series.</param>
    /// <param name="from">First event time.</param>
    /// <param name="until">End, exclusive; null for none.</param>
    /// <param name="withSuperseded">Whether values that were corrected later come too.</param>
    public static List<Reading> Of(ReadConnection read, long series, EventTime from, EventTime? until, bool withSuperseded) => read
        .Statement($"SELECT {Columns} FROM reading WHERE series = ?1 AND t >= ?2 AND t < ?3 AND (quality & ?4) = 0 ORDER BY t, n")
        .List(
            Reading,
            series,
            from.UnixMicroseconds,
            until?.UnixMicroseconds ?? long.MaxValue,
            withSuperseded ? 0 : (int)ReadingQuality.Superseded);

    /// <summary>Readings of all series of attached sensors, within the attachments, superseded ones included: facts.</summary>
    public static List<SeriesReadings> OfAttachments(ReadConnection read, IReadOnlyList<SensorAttachment> attachments)
    {
        var all = new List<SeriesReadings>();
        foreach (var sensor in attachments.GroupBy(attachment => attachment.Sensor))
        {
            var series = read.Statement("SELECT id, quantity FROM series WHERE sensor = ?1 ORDER BY quantity")
                .List(row => (Id: row.GetInt64(0), Quantity: (QuantityKind)row.GetInt32(1)), sensor.Key.Value);
            foreach (var (id, quantity) in series)
            {
                var readings = sensor
                    .SelectMany(attachment => Of(read, id, attachment.From, attachment.Until, withSuperseded: true))
                    .ToList();
                if (readings.Count > 0)
                {
                    all.Add(new SeriesReadings(new SeriesKey(sensor.Key, quantity), readings));
                }
            }
        }

        return all;
    }

    /// <summary>The number of a series, or null when it has no reading.</summary>
    public static long? Number(ReadConnection read, SeriesKey series) => read
        .Statement("SELECT id FROM series WHERE sensor = ?1 AND quantity = ?2")
        .Number(series.Sensor.Value, (int)series.Quantity);

    private static Reading Reading(SqliteDataReader row)
    {
        var t = row.GetInt64(0);
        var value = row.GetDouble(5);
        return new Reading(
            new EventTime(t),
            row.GetInt64(1),
            row.NumberOrNull(2) is { } offset ? new EventTime(t + offset) : null,
            new ReceivedAt(t + row.GetInt64(3)),
            row.RealOrNull(4) ?? value,
            value,
            ((ReadingQuality)row.GetInt32(6) & ReadingQuality.ClockNotTrusted) == 0);
    }
}
