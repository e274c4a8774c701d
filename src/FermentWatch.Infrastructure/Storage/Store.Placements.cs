using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>A sensor's time in a batch, with the batch's name.</summary>
/// <param name="Batch">Key of the batch.</param>
/// <param name="Name">Its name.</param>
/// <param name="Attachment">From when to when, and where the sensor sits.</param>
public sealed record SensorStay(BatchId Batch, string Name, SensorAttachment Attachment);

/// <summary>What became of a change of attachments.</summary>
public enum AttachmentChange
{
    /// <summary>Done.</summary>
    Done,

    /// <summary>The sensor is not attached at that moment as the change takes it to be.</summary>
    NotAttached,

    /// <summary>The sensor would be in two places at once.</summary>
    Overlapping,

    /// <summary>No such batch is listed.</summary>
    NoSuchBatch,
}

/// <summary>Where sensors sit and sat. A change on the page stays when the configuration is read again.</summary>
public sealed partial class Store
{
    /// <summary>Stays of a sensor, by begin.</summary>
    public IReadOnlyList<SensorStay> ReadStays(SensorId sensor) => _reads.Read<IReadOnlyList<SensorStay>>(read => read
        .Statement("""
            SELECT attachment.batch, sensor, from_time, until_time, placement, batch.name FROM attachment JOIN batch ON batch.id = attachment.batch
            WHERE sensor = ?1 ORDER BY from_time, attachment.batch
            """)
        .List(row => new SensorStay(new BatchId(row.GetString(0)), row.GetString(5), BatchRows.Attachment(row)), sensor.Value));

    /// <summary>Sensors that are or were attached, or sent anything, by name.</summary>
    public IReadOnlyList<SensorId> ReadSensors() => _reads.Read<IReadOnlyList<SensorId>>(read => read
        .Statement("SELECT sensor FROM series UNION SELECT sensor FROM attachment ORDER BY 1")
        .List(row => new SensorId(row.GetString(0))));

    /// <summary>How many readings of a series have an event time that is not the device's own.</summary>
    public long CountClockRepaired(SeriesKey series) => _reads.Read(read => ReadingRows.Number(read, series) is { } number
        ? read.Statement("SELECT count(*) FROM reading WHERE series = ?1 AND (quality & 1) <> 0").Number(number) ?? 0
        : 0);

    /// <summary>The unit of the newest reading of a series, or null when it has none.</summary>
    public MeasurementUnit? ReadUnit(SeriesKey series) => _reads.Read(read => ReadingRows.Number(read, series) is { } number
        ? (MeasurementUnit?)read.Statement("SELECT unit FROM reading WHERE series = ?1 ORDER BY t DESC, n DESC LIMIT 1").Number(number)
        : null);

    /// <summary>From a moment on the sensor sits elsewhere in the same batch; from its begin on, when the moment is that.</summary>
    /// <param name="stay">The stay as it was read.</param>
    /// <param name="from">From when on; within the stay.</param>
    /// <param name="placement">Where it sits then.</param>
    /// <param name="cancellationToken">Counts while the work waits for room.</param>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<AttachmentChange> ChangePlacementAsync(SensorStay stay, EventTime from, Placement placement, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(stay);
        return WriteAsync(
            connection =>
            {
                var now = stay.Attachment;
                if (!now.Covers(from) || !Exists(connection, stay))
                {
                    return AttachmentChange.NotAttached;
                }

                if (from == now.From)
                {
                    connection.Statement("UPDATE attachment SET placement = ?4 WHERE batch = ?1 AND sensor = ?2 AND from_time = ?3")
                        .Run(stay.Batch.Value, now.Sensor.Value, now.From.UnixMicroseconds, (int)placement);
                }
                else
                {
                    End(connection, stay, from);
                    Begin(connection, stay.Batch, now with { From = from, Placement = placement });
                }

                Changed(connection, stay.Batch);
                return AttachmentChange.Done;
            },
            cancellationToken);
    }

    /// <summary>Ends a stay at a moment and begins another in another batch.</summary>
    /// <param name="stay">The open stay that ends; null when the sensor is in no batch.</param>
    /// <param name="begin">The new stay, without an end.</param>
    /// <param name="batch">The batch to which it moves.</param>
    /// <param name="cancellationToken">Counts while the work waits for room.</param>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<AttachmentChange> MoveSensorAsync(SensorStay? stay, SensorAttachment begin, BatchId batch, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(begin);
        return WriteAsync(
            connection =>
            {
                if (connection.Statement("SELECT 1 FROM batch WHERE id = ?1 AND listed = 1").Number(batch.Value) is null)
                {
                    return AttachmentChange.NoSuchBatch;
                }

                if (stay is not null && (stay.Attachment.Until is not null || begin.From <= stay.Attachment.From || !Exists(connection, stay)))
                {
                    return AttachmentChange.NotAttached;
                }

                // Any other stay that reaches into the new one would count its readings twice.
                var others = connection.Statement("SELECT batch, sensor, from_time, until_time, placement FROM attachment WHERE sensor = ?1")
                    .List(row => (Batch: row.GetString(0), Attachment: BatchRows.Attachment(row)), begin.Sensor.Value)
                    .Where(other => stay is null || other.Batch != stay.Batch.Value || other.Attachment != stay.Attachment);
                if (others.Any(other => other.Attachment.Until is not { } until || until > begin.From))
                {
                    return AttachmentChange.Overlapping;
                }

                if (stay is not null)
                {
                    End(connection, stay, begin.From);
                    Changed(connection, stay.Batch);
                }

                Begin(connection, batch, begin with { Until = null });
                Changed(connection, batch);
                return AttachmentChange.Done;
            },
            cancellationToken);
    }

    private static bool Exists(WriteConnection connection, SensorStay stay) => connection
        .Statement("SELECT 1 FROM attachment WHERE batch = ?1 AND sensor = ?2 AND from_time = ?3 AND until_time IS ?4")
        .Number(stay.Batch.Value, stay.Attachment.Sensor.Value, stay.Attachment.From.UnixMicroseconds, stay.Attachment.Until?.UnixMicroseconds) is not null;

    private static void End(WriteConnection connection, SensorStay stay, EventTime at) => connection
        .Statement("UPDATE attachment SET until_time = ?4 WHERE batch = ?1 AND sensor = ?2 AND from_time = ?3")
        .Run(stay.Batch.Value, stay.Attachment.Sensor.Value, stay.Attachment.From.UnixMicroseconds, at.UnixMicroseconds);

    private static void Begin(WriteConnection connection, BatchId batch, SensorAttachment attachment) => connection
        .Statement("INSERT INTO attachment (batch, sensor, from_time, until_time, placement) VALUES (?1, ?2, ?3, ?4, ?5)")
        .Run(batch.Value, attachment.Sensor.Value, attachment.From.UnixMicroseconds, attachment.Until?.UnixMicroseconds, (int)attachment.Placement);

    private static void Changed(WriteConnection connection, BatchId batch)
    {
        connection.Statement("INSERT OR IGNORE INTO attached_on_page (batch) VALUES (?1)").Run(batch.Value);
        connection.Memory.Attachments.Forget();
        BatchRows.Revise(connection, batch.Value);
    }
}
