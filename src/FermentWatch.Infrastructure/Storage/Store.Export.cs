using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using Microsoft.Data.Sqlite;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>A reading with what it needs outside the store.</summary>
/// <param name="Series">Which stream.</param>
/// <param name="Reading">The fact.</param>
/// <param name="Unit">Unit of the raw number.</param>
/// <param name="Corrected">Whether a later message corrected it.</param>
public sealed record ExportedReading(SeriesKey Series, Reading Reading, MeasurementUnit Unit, bool Corrected);

/// <summary>A journal entry as it is stored.</summary>
/// <param name="Id">Number over the life of the store.</param>
/// <param name="Kind">What happened.</param>
/// <param name="At">When.</param>
/// <param name="Body">All else, as JSON.</param>
/// <param name="Supersedes">The entry that it replaces, or null.</param>
/// <param name="UndoneAt">When it was taken back, or null.</param>
public sealed record ExportedEntry(long Id, JournalKind Kind, EventTime At, string Body, long? Supersedes, ReceivedAt? UndoneAt)
{
    /// <summary>The entry as it stood at a moment: what was taken back later is not taken back yet.</summary>
    /// <exception cref="System.Text.Json.JsonException">The body is not what a journal holds.</exception>
    public JournalEntry ToEntry(ReceivedAt asOf) => JournalRows.EntryOf(Id, Kind, At, Body, Supersedes, UndoneAt is { } undone && undone <= asOf);
}

/// <summary>Everything, on its way out: rows are handed over one by one, so that no export is ever whole in memory.</summary>
public sealed partial class Store
{
    /// <summary>Hands over the readings of a sensor within [from, until) in order of arrival, corrected ones included: one state of the database.</summary>
    /// <exception cref="StorageUnavailableException">The database cannot be read; what came before was handed over.</exception>
    public void ExportReadings(SensorId sensor, EventTime from, EventTime until, Action<ExportedReading> take)
    {
        ArgumentNullException.ThrowIfNull(take);
        _reads.Read(read =>
        {
            using var rows = read.Statement("""
                SELECT s.quantity, r.t, r.n, r.device_offset, r.received_offset, r.unit, r.raw, r.value, r.quality
                FROM reading r JOIN series s ON s.id = r.series
                WHERE s.sensor = ?1 AND r.t >= ?2 AND r.t < ?3 ORDER BY r.n, s.quantity, r.t
                """).Rows(sensor.Value, from.UnixMicroseconds, until.UnixMicroseconds);
            while (rows.Read())
            {
                take(Exported(sensor, rows));
            }

            return true;
        });
    }

    /// <summary>All journal entries of a batch as they are stored, by number.</summary>
    public IReadOnlyList<ExportedEntry> ExportJournal(BatchId batch) => _reads.Read<IReadOnlyList<ExportedEntry>>(read => read
        .Statement("SELECT id, kind, at, body, supersedes, undone_at FROM journal WHERE batch = ?1 ORDER BY id")
        .List(
            row => new ExportedEntry(
                row.GetInt64(0),
                (JournalKind)row.GetInt32(1),
                new EventTime(row.GetInt64(2)),
                row.GetString(3),
                row.NumberOrNull(4),
                row.NumberOrNull(5) is { } undone ? new ReceivedAt(undone) : null),
            batch.Value));

    private static ExportedReading Exported(SensorId sensor, SqliteDataReader row)
    {
        var t = row.GetInt64(1);
        var value = row.GetDouble(7);
        var quality = (ReadingQuality)row.GetInt32(8);
        return new ExportedReading(
            new SeriesKey(sensor, (QuantityKind)row.GetInt32(0)),
            new Reading(
                new EventTime(t),
                row.GetInt64(2),
                row.NumberOrNull(3) is { } offset ? new EventTime(t + offset) : null,
                new ReceivedAt(t + row.GetInt64(4)),
                row.RealOrNull(6) ?? value,
                value,
                (quality & ReadingQuality.ClockNotTrusted) == 0),
            (MeasurementUnit)row.GetInt32(5),
            (quality & ReadingQuality.Superseded) != 0);
    }
}
