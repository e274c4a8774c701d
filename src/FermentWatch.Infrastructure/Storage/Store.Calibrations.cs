using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Monitoring.Telemetry.Calibration;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Calibrations of sensors: added and retired, never changed. They are applied when readings are read.</summary>
public sealed partial class Store
{
    /// <summary>Calibrations of a sensor, retired ones included, in the order in which they were taken over.</summary>
    public IReadOnlyList<SensorCalibration> ReadCalibrations(SensorId sensor) =>
        _reads.Read<IReadOnlyList<SensorCalibration>>(read => CalibrationRows.Read(read).FindAll(one => one.Sensor == sensor));

    /// <summary>Takes over a gravity from inclination, and raises the revision of every batch that the sensor ever was in.</summary>
    /// <returns>Those batches.</returns>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<IReadOnlyList<BatchId>> AddCalibrationAsync(SensorId sensor, EventTime from, InclinationCurve curve, CancellationToken cancellationToken) =>
        AppendAsync(sensor, from, curve ?? throw new ArgumentNullException(nameof(curve)), null, cancellationToken);

    /// <summary>Takes over an adjustment by hand readings, and raises the revision of every batch that the sensor ever was in.</summary>
    /// <returns>Those batches.</returns>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<IReadOnlyList<BatchId>> AddCalibrationAsync(SensorId sensor, EventTime from, GravityAdjustment adjustment, CancellationToken cancellationToken) =>
        AppendAsync(sensor, from, null, adjustment ?? throw new ArgumentNullException(nameof(adjustment)), cancellationToken);

    /// <summary>Takes a calibration back; it stays in the history. What it covered falls to the one before it.</summary>
    /// <returns>The batches that the sensor ever was in; none when there was no such calibration, or it was taken back before.</returns>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<IReadOnlyList<BatchId>> RetireCalibrationAsync(SensorId sensor, long id, CancellationToken cancellationToken)
    {
        var now = ReceivedAt.From(_clock.GetUtcNow());
        return WriteAsync<IReadOnlyList<BatchId>>(
            connection => connection.Statement("UPDATE calibration SET retired_at = ?3 WHERE id = ?1 AND sensor = ?2 AND retired_at IS NULL")
                .Run(id, sensor.Value, now.UnixMicroseconds) > 0 ? ReviseBatchesOf(connection, sensor) : [],
            cancellationToken);
    }

    /// <summary>Facts of a batch with inclinations turned into gravity but no adjustment by hand readings: what hand readings are compared with. Null when there is no such batch.</summary>
    public BatchFacts? ReadUnadjusted(BatchId id) => _reads.Read(read =>
    {
        var batch = read.Statement($"SELECT {BatchRows.Columns} FROM batch WHERE id = ?1").List(BatchRows.Batch, id.Value).SingleOrDefault();
        if (batch is null)
        {
            return null;
        }

        var attachments = read.Statement("SELECT batch, sensor, from_time, until_time, placement FROM attachment WHERE batch = ?1 ORDER BY from_time, sensor")
            .List(BatchRows.Attachment, id.Value);
        var facts = new BatchFacts(batch with { Sensors = ValueList.Of(attachments) }, JournalRows.Read(read, id), ReadingRows.OfAttachments(read, attachments));
        return DerivedSeries.Apply(facts, CalibrationRows.Read(read).FindAll(one => one.Curve is not null));
    });

    private Task<IReadOnlyList<BatchId>> AppendAsync(
        SensorId sensor, EventTime from, InclinationCurve? curve, GravityAdjustment? adjustment, CancellationToken cancellationToken)
    {
        var now = ReceivedAt.From(_clock.GetUtcNow());
        return WriteAsync<IReadOnlyList<BatchId>>(
            connection =>
            {
                CalibrationRows.Append(connection, sensor, from, curve, adjustment, now);
                return ReviseBatchesOf(connection, sensor);
            },
            cancellationToken);
    }

    private static List<BatchId> ReviseBatchesOf(WriteConnection connection, SensorId sensor)
    {
        var batches = connection.Statement("SELECT DISTINCT batch FROM attachment WHERE sensor = ?1").List(row => new BatchId(row.GetString(0)), sensor.Value);
        foreach (var batch in batches)
        {
            BatchRows.Revise(connection, batch.Value);
        }

        return batches;
    }
}
