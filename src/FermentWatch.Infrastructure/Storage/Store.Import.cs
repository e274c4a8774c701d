
namespace FermentWatch.Infrastructure.Storage;

/// <summary>Readings that come by file: past the inbox, under the same rule of identity, with sequence numbers of the same row.</summary>
public sealed partial class Store
{
    /// <summary>Rows of a file that one transaction takes in: short enough that messages do not wait for long.</summary>
    public const int ImportChunk = 500;

    // Sequence numbers are given on past those of the inbox: this cursor remembers how far, since no message does.
    private const string ImportCursor = "imported";

    /// <summary>Stores the rows of a file in order, some hundred in a transaction; each row takes one sequence number.</summary>
    /// <param name="rows">The readings of each row. A row that cannot be read is no row here.</param>
    /// <param name="progress">Told after each transaction.</param>
    /// <param name="cancellationToken">Stops between two transactions: what was stored stays, and an import of the same file later adds the rest.</param>
    /// <exception cref="StorageUnavailableException">What came before is stored; the import can be repeated.</exception>
    /// <exception cref="OperationCanceledException">The caller gave up.</exception>
    public async Task<ImportCounts> ImportAsync(IEnumerable<IReadOnlyList<ImportedReading>> rows, Action<ImportCounts> progress, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(rows);
        ArgumentNullException.ThrowIfNull(progress);
        var total = default(ImportCounts);
        foreach (var chunk in rows.Chunk(ImportChunk))
        {
            cancellationToken.ThrowIfCancellationRequested();
            total += await WriteAsync(connection => Import(connection, chunk), cancellationToken).ConfigureAwait(false);
            progress(total);
        }

        return total;
    }

    /// <summary>Gives sensors their stretch in a batch, as far as they are not there already, and raises its revision.</summary>
    /// <exception cref="ArgumentException">No such batch.</exception>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<bool> AttachImportedAsync(IReadOnlyList<ImportedAttachment> attachments, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(attachments);
        return WriteAsync(connection => attachments.Aggregate(false, (any, one) => Attach(connection, one) || any), cancellationToken);
    }

    private static ImportCounts Import(WriteConnection connection, IReadOnlyList<ImportedReading>[] rows)
    {
        var rollups = new RollupWriter(connection);
        var writer = new ReadingWriter(connection, rollups);
        var (stored, known, corrected) = (0L, 0L, 0L);
        foreach (var row in rows)
        {
            var sequence = connection.Memory.NextSequence();
            foreach (var reading in row)
            {
                var fate = writer.Import(sequence, reading);
                stored += fate is ReadingFate.Stored or ReadingFate.Corrected ? 1 : 0;
                corrected += fate == ReadingFate.Corrected ? 1 : 0;
                known += fate is ReadingFate.Known or ReadingFate.Refused ? 1 : 0;
            }
        }

        rollups.Flush();
        connection.Memory.Count(OutcomeTally.ReadingsStored, stored);
        connection.Memory.Count(OutcomeTally.ReadingsKnown, known);
        connection.Memory.Count(OutcomeTally.ReadingsCorrected, corrected);
        connection.Statement("INSERT INTO cursor (name, sequence) VALUES (?1, ?2) ON CONFLICT (name) DO UPDATE SET sequence = excluded.sequence")
            .Run(ImportCursor, connection.Memory.LastSequence);
        return new ImportCounts(stored, known, corrected);
    }

    private static bool Attach(WriteConnection connection, ImportedAttachment wanted)
    {
        var (batch, attachment) = (wanted.Batch.Value, wanted.Attachment);
        if (connection.Statement("SELECT 1 FROM batch WHERE id = ?1").Number(batch) is null)
        {
            throw new ArgumentException($"There is no batch '{batch}' to which a sensor could be attached.");
        }

        var isThere = connection
            .Statement("SELECT 1 FROM attachment WHERE batch = ?1 AND sensor = ?2 AND from_time <= ?3 AND (until_time IS NULL OR until_time >= ?4) LIMIT 1")
            .Number(batch, attachment.Sensor.Value, attachment.From.UnixMicroseconds, attachment.Until?.UnixMicroseconds ?? long.MaxValue) is not null;
        if (isThere)
        {
            return false;
        }

        connection.Statement("INSERT OR REPLACE INTO attachment (batch, sensor, from_time, until_time, placement, imported) VALUES (?1, ?2, ?3, ?4, ?5, 1)")
            .Run(batch, attachment.Sensor.Value, attachment.From.UnixMicroseconds, attachment.Until?.UnixMicroseconds, (int)attachment.Placement);
        connection.Memory.Attachments.Forget();
        BatchRows.Revise(connection, batch);
        return true;
    }
}
