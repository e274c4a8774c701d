using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Monitoring.Telemetry.Calibration;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>A batch with what stands beside it in the store.</summary>
/// <param name="Facts">Batch, journal and readings.</param>
/// <param name="Revision">Goes up with every change of batch or journal: hand it back with what was computed from the facts.</param>
/// <param name="AlertSet">The stored alert set as JSON, or null before the first.</param>
public sealed record BatchSnapshot(BatchFacts Facts, long Revision, string? AlertSet);

/// <summary>Batches and everything that hangs on one.</summary>
public sealed partial class Store
{
    /// <summary>Takes over the batches of the configuration: new ones are added, known ones updated, and those no longer there are kept but not listed.</summary>
    /// <remarks>Batches that were started on the page are left alone.</remarks>
    /// <returns>The batches that were added or changed.</returns>
    /// <exception cref="DataDirectoryException">A batch that was started on the page has the same key: nothing was written.</exception>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<IReadOnlyList<BatchId>> ReplaceBatchesAsync(IReadOnlyList<Batch> batches, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(batches);
        return WriteAsync<IReadOnlyList<BatchId>>(
            connection =>
            {
                foreach (var batch in batches)
                {
                    RefuseTaken(connection, batch.Id);
                }

                var changed = batches.Where(batch => BatchRows.Put(connection, BatchRows.WithSensorsOfPage(connection, batch))).Select(batch => batch.Id).ToList();
                foreach (var id in changed)
                {
                    BatchRows.Revise(connection, id.Value);
                }

                var listed = batches.Select(batch => batch.Id.Value).ToHashSet(StringComparer.Ordinal);
                foreach (var id in connection.Statement("SELECT id FROM batch WHERE listed = 1 AND origin = 'file'").List(row => row.GetString(0)))
                {
                    if (!listed.Contains(id))
                    {
                        connection.Statement("UPDATE batch SET listed = 0 WHERE id = ?1").Run(id);
                    }
                }

                return changed;
            },
            cancellationToken);
    }

    /// <summary>Listed batches with their attachments, by inoculation, newest first.</summary>
    public IReadOnlyList<Batch> ReadBatches() => _reads.Read<IReadOnlyList<Batch>>(read =>
    {
        var attachments = read.Statement("SELECT batch, sensor, from_time, until_time, placement FROM attachment ORDER BY batch, from_time, sensor")
            .List(row => (Batch: row.GetString(0), Attachment: BatchRows.Attachment(row)))
            .ToLookup(pair => pair.Batch, pair => pair.Attachment);
        return [.. read.Statement($"SELECT {BatchRows.Columns} FROM batch WHERE listed = 1 ORDER BY inoculated DESC, id")
            .List(BatchRows.Batch)
            .Select(batch => batch with { Sensors = ValueList.Of(attachments[batch.Id.Value]) })];
    });

    /// <summary>One state of all that a view of a batch is computed from, or null when there is no such batch.</summary>
    public BatchSnapshot? ReadBatch(BatchId id) => _reads.Read(read =>
    {
        var batch = read.Statement($"SELECT {BatchRows.Columns} FROM batch WHERE id = ?1").List(BatchRows.Batch, id.Value).SingleOrDefault();
        if (batch is null)
        {
            return null;
        }

        var attachments = read.Statement("SELECT batch, sensor, from_time, until_time, placement FROM attachment WHERE batch = ?1 ORDER BY from_time, sensor")
            .List(BatchRows.Attachment, id.Value);
        var facts = new BatchFacts(
            batch with { Sensors = ValueList.Of(attachments) },
            JournalRows.Read(read, id),
            ReadingRows.OfAttachments(read, attachments))
        {
            Work = WorkRows.Of(read, id),
        };
        return new BatchSnapshot(
            DerivedSeries.Apply(facts, CalibrationRows.Read(read)),
            read.Statement("SELECT revision FROM batch_state WHERE batch = ?1").Number(id.Value) ?? 0,
            read.Statement("SELECT body FROM alert WHERE batch = ?1").Text(id.Value));
    });

    private static void RefuseTaken(WriteConnection connection, BatchId id)
    {
        if (connection.Statement("SELECT 1 FROM batch WHERE id = ?1 AND origin = 'page'").Number(id.Value) is not null)
        {
            throw new DataDirectoryException(
                DataDirectoryProblem.BatchKeyTaken,
                $"The configuration has a batch with the Id '{id.Value}', and a batch that was started on the page has it already. "
                + "Give the one in the configuration another Id. Nothing was changed.");
        }
    }
}
