using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>What one piece of a change of unit did.</summary>
internal sealed record UnitChangePieceReport(int Readings, IReadOnlySet<BatchId> Batches);

/// <summary>One transaction of a change of unit. The unit of a reading says whether it has been changed, so that any piece may be the last before a crash.</summary>
internal static class UnitChangeWriter
{
    // The conversion of °Plato and °Brix ends there; what lies beyond cannot be and is set aside when the batch is looked at.
    private const double LowestDegrees = -12;
    private const double HighestDegrees = 85;

    public static UnitChangePieceReport Piece(WriteConnection connection, UnitChange change, int most)
    {
        var series = connection.Memory.Series.Of(change.Series).Id;
        var rows = connection.Statement("SELECT t, n, coalesce(raw, value) FROM reading WHERE series = ?1 AND unit = ?2 ORDER BY t, n LIMIT ?3")
            .List(row => (T: row.GetInt64(0), N: row.GetInt64(1), Raw: row.GetDouble(2)), series, (int)change.Was, most);
        var batches = new HashSet<BatchId>();
        if (rows.Count == 0 || change.Was == change.Is)
        {
            connection.Statement("DELETE FROM unit_change WHERE sensor = ?1 AND quantity = ?2").Run(change.Series.Sensor.Value, (int)change.Series.Quantity);
            return new UnitChangePieceReport(0, batches);
        }

        var rollups = new RollupWriter(connection);
        foreach (var (t, n, raw) in rows)
        {
            var value = Value(raw, change.Is);
            connection.Statement("UPDATE reading SET unit = ?4, raw = ?5, value = ?6 WHERE series = ?1 AND t = ?2 AND n = ?3").Run(
                series,
                t,
                n,
                (int)change.Is,
                BitConverter.DoubleToInt64Bits(raw) == BitConverter.DoubleToInt64Bits(value) ? null : raw,
                value);
            var at = new EventTime(t);
            rollups.Recompute(series, at);
            batches.UnionWith(connection.Memory.Attachments.BatchesOf(change.Series.Sensor, at));
        }

        rollups.Flush();
        foreach (var batch in batches)
        {
            BatchRows.Revise(connection, batch.Value);
        }

        return new UnitChangePieceReport(rows.Count, batches);
    }

    private static double Value(double raw, MeasurementUnit unit) => UnitConversion.ToCanonical(
        unit is MeasurementUnit.DegreesPlato or MeasurementUnit.DegreesBrix ? Math.Clamp(raw, LowestDegrees, HighestDegrees) : raw,
        unit);
}
