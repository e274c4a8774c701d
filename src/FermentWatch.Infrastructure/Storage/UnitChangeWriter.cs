using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using Microsoft.Data.Sqlite;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>What one piece of a change of unit did.</summary>
/// <param name="Readings">Readings computed anew.</param>
/// <param name="Batches">Batches to which they belong.</param>
/// <param name="Last">The last reading that was looked at; null when there was none left, and the change is done.</param>
internal sealed record UnitChangePieceReport(int Readings, IReadOnlySet<BatchId> Batches, (long T, long N)? Last);

/// <summary>
/// One transaction of a change of unit, or of what a number is at all: then its readings move to another series.
/// The unit of a reading says whether it has been changed, so that any piece may be the last before a crash.
/// </summary>
internal sealed class UnitChangeWriter(WriteConnection connection, UnitChange change)
{
    // The conversion of °Plato and °Brix ends there; what lies beyond cannot be and is set aside when the batch is looked at.
    private const double LowestDegrees = -12;
    private const double HighestDegrees = 85;

    private readonly RollupWriter _rollups = new(connection);
    private readonly HashSet<BatchId> _batches = [];

    private bool IsMove => change.Target != change.Series;

    public UnitChangePieceReport Piece((long T, long N) after, int most)
    {
        var source = connection.Memory.Series.Of(change.Series);
        var rows = connection.Statement("""
            SELECT r.t, r.n, coalesce(r.raw, r.value), r.received_offset, topic.name, r.device_offset IS NOT NULL AND (r.quality & 1) = 0
            FROM reading r LEFT JOIN inbox ON inbox.sequence = r.n LEFT JOIN topic ON topic.id = inbox.topic
            WHERE r.series = ?1 AND r.unit = ?2 AND (r.t, r.n) > (?3, ?4) ORDER BY r.t, r.n LIMIT ?5
            """).List(Row.Of, source.Id, (int)change.Was, after.T, after.N, most);
        if (rows.Count == 0 || change.Was == change.Is)
        {
            connection.Statement("DELETE FROM unit_change WHERE sensor = ?1 AND quantity = ?2").Run(change.Series.Sensor.Value, (int)change.Series.Quantity);
            if (IsMove)
            {
                connection.Memory.Series.RemoveIfEmpty(change.Series);
            }

            return new UnitChangePieceReport(0, _batches, null);
        }

        // Several mappings may feed one series: what is known to have come on a topic of another one stays as it is.
        var filters = FiltersOfTheMapping();
        var own = rows.Where(row => row.Topic is not { } topic || filters.Count == 0 || filters.Any(filter => filter.Matches(topic))).ToList();
        foreach (var row in own)
        {
            Write(source, row);
            _batches.UnionWith(connection.Memory.Attachments.BatchesOf(change.Series.Sensor, new EventTime(row.T)));
        }

        _rollups.Flush();
        foreach (var batch in _batches)
        {
            BatchRows.Revise(connection, batch.Value);
        }

        return new UnitChangePieceReport(own.Count, _batches, (rows[^1].T, rows[^1].N));
    }

    /// <summary>The number in the unit in which the quantity is kept.</summary>
    public static double Value(double raw, MeasurementUnit unit) => UnitConversion.ToCanonical(
        unit is MeasurementUnit.DegreesPlato or MeasurementUnit.DegreesBrix ? Math.Clamp(raw, LowestDegrees, HighestDegrees) : raw,
        unit);

    /// <summary>The raw number as it is stored: null when it equals the value.</summary>
    public static double? Stored(double raw, double value) => BitConverter.DoubleToInt64Bits(raw) == BitConverter.DoubleToInt64Bits(value) ? null : raw;

    private List<TopicFilter> FiltersOfTheMapping() =>
        [.. connection.Statement($"SELECT {MappingRows.Columns} FROM mapping WHERE sensor = ?1 AND retired_at IS NULL").List(MappingRows.Read, change.Series.Sensor.Value)
            .Where(made => made.Mapping.Fields.Any(field => field.Unit == change.Is))
            .Select(made => made.Mapping.Filter)];

    private void Write(SeriesState source, Row row)
    {
        var value = Value(row.Raw, change.Is);
        if (!IsMove)
        {
            connection.Statement("UPDATE reading SET unit = ?4, raw = ?5, value = ?6 WHERE series = ?1 AND t = ?2 AND n = ?3")
                .Run(source.Id, row.T, row.N, (int)change.Is, Stored(row.Raw, value), value);
            connection.Memory.Changes.Reading(change.Series, row.T);
            _rollups.Recompute(source.Id, new EventTime(row.T));
            return;
        }

        var target = connection.Memory.Series.Of(change.Target);
        connection.Statement("UPDATE reading SET series = ?4, unit = ?5, raw = ?6, value = ?7 WHERE series = ?1 AND t = ?2 AND n = ?3")
            .Run(source.Id, row.T, row.N, target.Id, (int)change.Is, Stored(row.Raw, value), value);
        connection.Memory.Changes.Left(change.Series, row.T, row.Place);
        connection.Memory.Changes.Reading(change.Target, row.T);
        connection.Statement("UPDATE OR REPLACE clock_fix SET series = ?3 WHERE series = ?1 AND n = ?2").Run(source.Id, row.N, target.Id);
        _rollups.Recompute(source.Id, new EventTime(row.T));
        _rollups.Recompute(target.Id, new EventTime(row.T));
        source.Readings--;
        target.Readings++;
        target.LastAt = Math.Max(target.LastAt ?? long.MinValue, row.T);
        target.LastReceived = Math.Max(target.LastReceived ?? long.MinValue, row.T + row.ReceivedOffset);
        source.IsDirty = target.IsDirty = true;
    }

    private sealed record Row(long T, long N, double Raw, long ReceivedOffset, string? Topic, bool HasOwnTime)
    {
        public long Place => CopiedFact.PlaceInMicrosecond(HasOwnTime, N);

        public static Row Of(SqliteDataReader row) =>
            new(row.GetInt64(0), row.GetInt64(1), row.GetDouble(2), row.GetInt64(3), row.TextOrNull(4), row.GetInt64(5) != 0);
    }
}
