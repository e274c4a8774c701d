using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>A batch that was put away.</summary>
/// <param name="Batch">The batch with its sensors.</param>
/// <param name="ArchivedAt">When it was put away.</param>
public sealed record ArchivedBatch(Batch Batch, ReceivedAt ArchivedAt);

/// <summary>Batches that are started and changed on the page.</summary>
public sealed partial class Store
{
    /// <summary>Adds a batch that was started on the page, or changes one. Where a sensor is used by another batch of the page from then on, it leaves that one.</summary>
    /// <param name="batch">The batch; its origin is taken to be the page.</param>
    /// <param name="cancellationToken">Counts while the work waits for room.</param>
    /// <returns>Every batch that changed: this one and those that a sensor left.</returns>
    /// <exception cref="ArgumentException">The key belongs to a batch of the configuration.</exception>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<IReadOnlyList<BatchId>> PutPageBatchAsync(Batch batch, CancellationToken cancellationToken) =>
        PutPageBatchAsync(batch, _ => batch.Sensors, cancellationToken);

    /// <summary>The same, with sensors that come from those that the batch has at that moment: what another page changed meanwhile is not lost.</summary>
    /// <param name="batch">The batch; its sensors do not count.</param>
    /// <param name="sensors">Its sensors from those that it has now.</param>
    /// <param name="cancellationToken">Counts while the work waits for room.</param>
    /// <returns>Every batch that changed.</returns>
    /// <exception cref="ArgumentException">The key belongs to a batch of the configuration.</exception>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<IReadOnlyList<BatchId>> PutPageBatchAsync(
        Batch batch, Func<ValueList<SensorAttachment>, ValueList<SensorAttachment>> sensors, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(batch);
        ArgumentNullException.ThrowIfNull(sensors);
        return WriteAsync<IReadOnlyList<BatchId>>(
            connection =>
            {
                if (connection.Statement("SELECT 1 FROM batch WHERE id = ?1 AND origin = 'file'").Number(batch.Id.Value) is not null)
                {
                    throw new ArgumentException($"The batch '{batch.Id}' belongs to the configuration and is changed there.");
                }

                var changed = new List<BatchId>();
                var before = BatchRows.OwnSensors(connection, batch.Id);
                var placed = sensors(before);
                foreach (var sensor in placed.Where(sensor => sensor.Until is null && !before.Contains(sensor)))
                {
                    changed.AddRange(Release(connection, batch.Id, sensor));
                }

                if (BatchRows.Put(connection, batch with { Origin = BatchOrigin.Page, Sensors = placed }))
                {
                    changed.Add(batch.Id);
                }

                foreach (var id in changed)
                {
                    BatchRows.Revise(connection, id.Value);
                }

                return changed;
            },
            cancellationToken);
    }

    /// <summary>Puts a batch of the page away: it keeps everything, is not listed, and its sensors leave it.</summary>
    /// <returns>False when there is no such listed batch of the page.</returns>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<bool> ArchiveBatchAsync(BatchId id, CancellationToken cancellationToken)
    {
        var now = ReceivedAt.From(_clock.GetUtcNow());
        return WriteAsync(
            connection =>
            {
                var done = connection.Statement("UPDATE batch SET listed = 0, archived_at = ?2 WHERE id = ?1 AND origin = 'page' AND listed = 1")
                    .Run(id.Value, now.UnixMicroseconds) > 0;
                if (done)
                {
                    connection.Statement("UPDATE attachment SET until_time = ?2 WHERE batch = ?1 AND until_time IS NULL AND from_time < ?2")
                        .Run(id.Value, now.UnixMicroseconds);
                    connection.Memory.Attachments.Forget();
                    BatchRows.Revise(connection, id.Value);
                }

                return done;
            },
            cancellationToken);
    }

    /// <summary>Lists a batch again that was put away. False when there is none of that key.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<bool> RestoreBatchAsync(BatchId id, CancellationToken cancellationToken) => WriteAsync(
        connection =>
        {
            var done = connection.Statement("UPDATE batch SET listed = 1, archived_at = NULL WHERE id = ?1 AND origin = 'page' AND listed = 0").Run(id.Value) > 0;
            if (done)
            {
                BatchRows.Revise(connection, id.Value);
            }

            return done;
        },
        cancellationToken);

    /// <summary>Batches of the page that were put away, the last one first.</summary>
    public IReadOnlyList<ArchivedBatch> ReadArchivedBatches() => _reads.Read<IReadOnlyList<ArchivedBatch>>(read => read
        .Statement($"SELECT {BatchRows.Columns}, archived_at FROM batch WHERE listed = 0 AND origin = 'page' ORDER BY archived_at DESC, id")
        .List(row => new ArchivedBatch(BatchRows.Batch(row), new ReceivedAt(row.NumberOrNull(17) ?? 0))));

    /// <summary>Whether any batch, listed or not, has the key.</summary>
    public bool HasBatch(BatchId id) => _reads.Read(read => read.Statement("SELECT 1 FROM batch WHERE id = ?1").Number(id.Value) is not null);

    private static List<BatchId> Release(WriteConnection connection, BatchId keeper, SensorAttachment sensor)
    {
        var left = connection
            .Statement("""
                SELECT a.batch FROM attachment a JOIN batch b ON b.id = a.batch
                WHERE a.sensor = ?1 AND a.batch <> ?2 AND b.origin = 'page' AND a.until_time IS NULL AND a.from_time < ?3
                """)
            .List(row => new BatchId(row.GetString(0)), sensor.Sensor.Value, keeper.Value, sensor.From.UnixMicroseconds);
        foreach (var id in left)
        {
            connection.Statement("UPDATE attachment SET until_time = ?3 WHERE batch = ?1 AND sensor = ?2 AND until_time IS NULL")
                .Run(id.Value, sensor.Sensor.Value, sensor.From.UnixMicroseconds);
        }

        return left;
    }
}
