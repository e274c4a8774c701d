using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.BenchTrials;
using Microsoft.Data.Sqlite;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Bench trials.</summary>
public sealed partial class Store
{
    private const string TrialColumns = "id, batch, state, body, work, made_at, changed_at, revision";

    /// <summary>Keeps a new trial.</summary>
    /// <returns>Its number.</returns>
    /// <exception cref="ArgumentException">No such batch.</exception>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<long> AddTrialAsync(BatchId batch, BenchTrial trial, CancellationToken cancellationToken)
    {
        var body = BenchTrialJson.Write(trial);
        return WriteAsync(
            connection => connection.Statement("SELECT count(*) FROM batch WHERE id = ?1").Number(batch.Value) == 0
                ? throw new ArgumentException($"There is no batch '{batch.Value}'.", nameof(batch))
                : connection.Statement("""
                    INSERT INTO trial (batch, state, body, work, made_at, changed_at, revision) VALUES (?1, ?2, ?3, ?4, ?5, ?5, 1) RETURNING id
                    """).Number(batch.Value, (int)TrialState.Mixing, body, TrialWorkJson.Write(new TrialWork()), Now)!.Value,
            cancellationToken);
    }

    /// <summary>A trial, or null.</summary>
    /// <exception cref="FormatException">It was written by a newer version.</exception>
    public StoredTrial? ReadTrial(long id) => _reads.Read(read =>
        read.Statement($"SELECT {TrialColumns} FROM trial WHERE id = ?1").List(TrialOf, id).SingleOrDefault());

    /// <summary>Trials, the newest first.</summary>
    /// <param name="batch">Of this batch; null for all.</param>
    public IReadOnlyList<StoredTrial> ReadTrials(BatchId? batch = null) => _reads.Read<IReadOnlyList<StoredTrial>>(read =>
        read.Statement($"SELECT {TrialColumns} FROM trial WHERE ?1 IS NULL OR batch = ?1 ORDER BY id DESC").List(TrialOf, batch?.Value));

    /// <summary>Changes a trial as it is at that moment, so that two tasters who answer at once lose nothing.</summary>
    /// <param name="id">Which.</param>
    /// <param name="change">From what is stored to what is to be stored; number, batch, times and revision are kept. An exception changes nothing and comes back.</param>
    /// <param name="cancellationToken">Counts while the work waits for room.</param>
    /// <returns>The trial after it; null when there is none.</returns>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<StoredTrial?> ChangeTrialAsync(long id, Func<StoredTrial, StoredTrial> change, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(change);
        return WriteAsync(
            connection =>
            {
                var was = connection.Statement($"SELECT {TrialColumns} FROM trial WHERE id = ?1").List(TrialOf, id).SingleOrDefault();
                if (was is null || change(was) is var next && ReferenceEquals(next, was))
                {
                    return was;
                }

                next = next with { Id = was.Id, Batch = was.Batch, MadeAt = was.MadeAt, ChangedAt = new ReceivedAt(Now), Revision = was.Revision + 1 };
                connection.Statement("UPDATE trial SET state = ?2, body = ?3, work = ?4, changed_at = ?5, revision = ?6 WHERE id = ?1")
                    .Run(id, (int)next.State, BenchTrialJson.Write(next.Trial), TrialWorkJson.Write(next.Work), next.ChangedAt.UnixMicroseconds, next.Revision);
                return next;
            },
            cancellationToken);
    }

    private static StoredTrial TrialOf(SqliteDataReader row) => new(
        row.GetInt64(0),
        new BatchId(row.GetString(1)),
        (TrialState)row.GetInt32(2),
        BenchTrialJson.Read(row.GetString(3)),
        TrialWorkJson.Read(row.GetString(4)),
        new ReceivedAt(row.GetInt64(5)),
        new ReceivedAt(row.GetInt64(6)),
        row.GetInt64(7));
}
