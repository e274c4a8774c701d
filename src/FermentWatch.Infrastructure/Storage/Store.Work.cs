using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Work on vessels: facts that quiet the alerts while they last.</summary>
public sealed partial class Store
{
    /// <summary>Says that somebody works on these batches from a moment on. What was going on there before ends then.</summary>
    /// <param name="batches">Which; unknown ones are passed over.</param>
    /// <param name="from">Begin.</param>
    /// <param name="until">When it ends by itself; after <paramref name="from"/>.</param>
    /// <param name="cancellationToken">Counts while the work waits for room.</param>
    /// <returns>The batches that are known.</returns>
    /// <exception cref="ArgumentException"><paramref name="until"/> is not after <paramref name="from"/>.</exception>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<IReadOnlyList<BatchId>> StartWorkAsync(IReadOnlyList<BatchId> batches, EventTime from, EventTime until, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(batches);
        return until <= from
            ? throw new ArgumentException($"Work that begins at {from} cannot end at {until}.", nameof(until))
            : WriteAsync<IReadOnlyList<BatchId>>(connection => WorkRows.Start(connection, batches, from, until), cancellationToken);
    }

    /// <summary>Says that the work on a batch is done.</summary>
    /// <returns>False when nobody works on it at that moment.</returns>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<bool> EndWorkAsync(BatchId batch, EventTime at, CancellationToken cancellationToken) =>
        WriteAsync(connection => WorkRows.End(connection, batch, at), cancellationToken);
}

/// <summary>Work between table and type.</summary>
internal static class WorkRows
{
    public static IReadOnlyList<WorkSpan> Of(ReadConnection read, BatchId batch) => read
        .Statement("SELECT from_time, min(until_time, coalesce(done_at, until_time)) FROM work WHERE batch = ?1 ORDER BY from_time, id")
        .List(row => new WorkSpan(new EventTime(row.GetInt64(0)), new EventTime(row.GetInt64(1))), batch.Value);

    public static List<BatchId> Start(WriteConnection connection, IReadOnlyList<BatchId> batches, EventTime from, EventTime until)
    {
        var known = batches.Distinct().Where(batch => connection.Statement("SELECT 1 FROM batch WHERE id = ?1").Number(batch.Value) is not null).ToList();
        foreach (var batch in known)
        {
            End(connection, batch, from);
            connection.Statement("INSERT INTO work (batch, from_time, until_time) VALUES (?1, ?2, ?3)")
                .Run(batch.Value, from.UnixMicroseconds, until.UnixMicroseconds);
            BatchRows.Revise(connection, batch.Value);
        }

        return known;
    }

    public static bool End(WriteConnection connection, BatchId batch, EventTime at)
    {
        var ended = connection
            .Statement("UPDATE work SET done_at = ?2 WHERE batch = ?1 AND from_time <= ?2 AND until_time > ?2 AND (done_at IS NULL OR done_at > ?2)")
            .Run(batch.Value, at.UnixMicroseconds) > 0;
        if (ended)
        {
            BatchRows.Revise(connection, batch.Value);
        }

        return ended;
    }
}
