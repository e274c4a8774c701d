using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Mappings made on the page, and topics that are ignored.</summary>
public sealed partial class Store
{
    /// <summary>Every mapping made on the page, retired ones included, in the order in which they were made.</summary>
    public IReadOnlyList<StoredMapping> ReadMappings() => _reads.Read<IReadOnlyList<StoredMapping>>(
        read => read.Statement($"SELECT {MappingRows.Columns} FROM mapping ORDER BY id").List(MappingRows.Read));

    /// <summary>Keeps a new mapping and gives its number.</summary>
    /// <exception cref="StorageUnavailableException">It was not kept.</exception>
    public Task<long> AddMappingAsync(TopicMapping mapping, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(mapping);
        var now = ReceivedAt.From(_clock.GetUtcNow()).UnixMicroseconds;
        return WriteAsync(
            connection => connection.Statement("""
                INSERT INTO mapping (sensor, filter, fields, time_pointer, time_format, created_at) VALUES (?1, ?2, ?3, ?4, ?5, ?6) RETURNING id
                """).Number(
                mapping.Sensor,
                mapping.Filter.Text,
                MappingRows.Fields(mapping),
                mapping.Time?.Source.Text,
                mapping.Time is { } time ? (int)time.Format : null,
                now)!.Value,
            cancellationToken);
    }

    /// <summary>Replaces what a mapping reads from now on. What it read before stays: see <see cref="ChangeUnitAsync"/> for a unit.</summary>
    /// <returns>False when there is no such mapping, or it is retired.</returns>
    /// <exception cref="StorageUnavailableException">Nothing was changed.</exception>
    public Task<bool> ReplaceMappingAsync(long id, TopicMapping mapping, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(mapping);
        return WriteAsync(connection => Replace(connection, id, mapping), cancellationToken);
    }

    /// <summary>Retires a mapping: it reads nothing more, and its readings stay. False when it was retired before, or is none.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was changed.</exception>
    public Task<bool> RetireMappingAsync(long id, CancellationToken cancellationToken)
    {
        var now = ReceivedAt.From(_clock.GetUtcNow()).UnixMicroseconds;
        return WriteAsync(
            connection => connection.Statement("UPDATE mapping SET retired_at = ?2 WHERE id = ?1 AND retired_at IS NULL").Run(id, now) > 0,
            cancellationToken);
    }

    /// <summary>Topics that the reader does not want to see in the listening list, by name.</summary>
    public IReadOnlyList<string> ReadIgnoredTopics() => _reads.Read<IReadOnlyList<string>>(
        read => read.Statement("SELECT topic FROM ignored_topic ORDER BY topic").List(row => row.GetString(0)));

    /// <summary>Ignores a topic, or shows it again.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was changed.</exception>
    public Task IgnoreTopicAsync(string topic, bool ignored, CancellationToken cancellationToken)
    {
        ArgumentException.ThrowIfNullOrEmpty(topic);
        var now = ReceivedAt.From(_clock.GetUtcNow()).UnixMicroseconds;
        return WriteAsync(
            connection => ignored
                ? connection.Statement("INSERT OR IGNORE INTO ignored_topic (topic, ignored_at) VALUES (?1, ?2)").Run(topic, now)
                : connection.Statement("DELETE FROM ignored_topic WHERE topic = ?1").Run(topic),
            cancellationToken);
    }

    /// <summary>Lets a sensor's readings belong to a batch from a time on.</summary>
    /// <returns>False when there is no such batch, or the sensor is attached to it from that time already.</returns>
    /// <exception cref="StorageUnavailableException">Nothing was changed.</exception>
    public Task<bool> AttachSensorAsync(BatchId batch, SensorAttachment attachment, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(attachment);
        return WriteAsync(
            connection =>
            {
                var added = connection.Statement("""
                    INSERT OR IGNORE INTO attachment (batch, sensor, from_time, until_time, placement)
                    SELECT id, ?2, ?3, ?4, ?5 FROM batch WHERE id = ?1
                    """).Run(
                    batch.Value,
                    attachment.Sensor.Value,
                    attachment.From.UnixMicroseconds,
                    attachment.Until?.UnixMicroseconds,
                    (int)attachment.Placement) > 0;
                if (added)
                {
                    connection.Memory.Attachments.Forget();
                    BatchRows.Revise(connection, batch.Value);
                }

                return added;
            },
            cancellationToken);
    }

    private static bool Replace(WriteConnection connection, long id, TopicMapping mapping) => connection.Statement("""
        UPDATE mapping SET sensor = ?2, filter = ?3, fields = ?4, time_pointer = ?5, time_format = ?6 WHERE id = ?1 AND retired_at IS NULL
        """).Run(
        id,
        mapping.Sensor,
        mapping.Filter.Text,
        MappingRows.Fields(mapping),
        mapping.Time?.Source.Text,
        mapping.Time is { } time ? (int)time.Format : null) > 0;
}
