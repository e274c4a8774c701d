using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using Microsoft.Data.Sqlite;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Where a notice stands. Stored by number: never renumber.</summary>
public enum OutboxState
{
    /// <summary>To be sent, at the next attempt.</summary>
    Waiting = 1,

    /// <summary>Taken by its channel.</summary>
    Sent = 2,

    /// <summary>Not delivered, and no longer tried.</summary>
    GivenUp = 3,

    /// <summary>Overtaken by what happened since, before it was sent.</summary>
    Overtaken = 4,
}

/// <summary>A notice of the outbox.</summary>
/// <param name="Key">Stable key.</param>
/// <param name="Batch">The batch that it is about; null for the service itself.</param>
/// <param name="Channel">Through which channel.</param>
/// <param name="Body">What to send.</param>
/// <param name="CreatedAt">When it was queued.</param>
/// <param name="NextAttemptAt">When it is due, or was last due.</param>
/// <param name="Attempts">Attempts begun so far.</param>
/// <param name="State">Where it stands.</param>
/// <param name="FinishedAt">When it was sent or given up; null while it waits.</param>
/// <param name="LastError">What the last failed attempt said, or null.</param>
public sealed record OutboxRow(
    string Key,
    BatchId? Batch,
    string Channel,
    string Body,
    ReceivedAt CreatedAt,
    ReceivedAt NextAttemptAt,
    int Attempts,
    OutboxState State,
    ReceivedAt? FinishedAt,
    string? LastError);

/// <summary>What waits in the outbox.</summary>
/// <param name="Waiting">Notices that wait, also for the morning.</param>
/// <param name="OldestDue">When the oldest that is due was queued; null when none is due.</param>
public readonly record struct OutboxBacklog(long Waiting, ReceivedAt? OldestDue);

/// <summary>The outbox: notices on their way to a channel. Delivered at least once, under a key that stays the same.</summary>
public sealed partial class Store
{
    // A shorter step back does no harm that a minute would not.
    private static readonly TimeSpan ClockSlack = TimeSpan.FromMinutes(10);

    private const string OutboxColumns = "key, batch, channel, body, created_at, next_attempt_at, attempts, state, finished_at, last_error";

    /// <summary>
    /// Takes notices that are due for an attempt and puts their next attempt off by <paramref name="lease"/>: whoever takes them and is
    /// killed before saying what became of them leaves them due again.
    /// </summary>
    /// <param name="now">Time of the attempt.</param>
    /// <param name="lease">Longer than the longest attempt.</param>
    /// <param name="limit">Most notices to take.</param>
    /// <param name="cancellationToken">Counts while the work waits for room.</param>
    /// <exception cref="StorageUnavailableException">Nothing was taken.</exception>
    public Task<IReadOnlyList<OutboxRow>> ClaimDueAsync(ReceivedAt now, TimeSpan lease, int limit, CancellationToken cancellationToken) =>
        WriteAsync<IReadOnlyList<OutboxRow>>(
            connection =>
            {
                // A clock that was set back would hold what was queued before: rather send it now than hours late.
                connection.Statement("UPDATE outbox SET created_at = ?1, next_attempt_at = ?1 WHERE state = 1 AND created_at > ?2")
                    .Run(now.UnixMicroseconds, (now + ClockSlack).UnixMicroseconds);
                var due = connection
                    .Statement($"SELECT {OutboxColumns} FROM outbox WHERE state = 1 AND next_attempt_at <= ?1 ORDER BY next_attempt_at, key LIMIT ?2")
                    .List(Row, now.UnixMicroseconds, limit);
                foreach (var row in due)
                {
                    connection.Statement("UPDATE outbox SET attempts = attempts + 1, next_attempt_at = ?2 WHERE key = ?1")
                        .Run(row.Key, (now + lease).UnixMicroseconds);
                }

                return [.. due.Select(row => row with { Attempts = row.Attempts + 1 })];
            },
            cancellationToken);

    /// <summary>
    /// Makes notices due whose first attempts were cut short by the end of the run before: only one process sends from a data directory,
    /// so at its start nobody else holds any. One that failed before keeps its time.
    /// </summary>
    /// <exception cref="StorageUnavailableException">They stay put off until their lease is over.</exception>
    public Task<int> ReleaseClaimsAsync(ReceivedAt now, CancellationToken cancellationToken) => WriteAsync(
        connection => connection.Statement("UPDATE outbox SET next_attempt_at = ?1 WHERE state = 1 AND attempts > 0 AND last_error IS NULL AND next_attempt_at > ?1")
            .Run(now.UnixMicroseconds),
        cancellationToken);

    /// <summary>Queues a notice outside of a pass; a key that was used before changes nothing.</summary>
    /// <param name="entry">The notice.</param>
    /// <param name="batch">The batch that it is about; null for the service itself.</param>
    /// <param name="at">Now.</param>
    /// <param name="cancellationToken">Counts while the work waits for room.</param>
    /// <returns>Whether it is new.</returns>
    /// <exception cref="StorageUnavailableException">It was not queued.</exception>
    public Task<bool> QueueAsync(OutboxEntry entry, BatchId? batch, ReceivedAt at, CancellationToken cancellationToken) => WriteAsync(
        connection => connection.Statement("""
            INSERT OR IGNORE INTO outbox (key, batch, channel, body, created_at, next_attempt_at, attempts, state) VALUES (?1, ?2, ?3, ?4, ?5, ?6, 0, 1)
            """).Run(entry.Key, batch?.Value ?? PassWriter.ServiceKey, entry.Channel, entry.Body, at.UnixMicroseconds, entry.NextAttemptAt.UnixMicroseconds) > 0,
        cancellationToken);

    /// <summary>The newest notice that each channel took, by channel.</summary>
    public IReadOnlyDictionary<string, ReceivedAt> ReadLastTaken() => _reads.Read<IReadOnlyDictionary<string, ReceivedAt>>(read => read
        .Statement("SELECT channel, max(finished_at) FROM outbox WHERE state = 2 GROUP BY channel")
        .List(row => (Channel: row.GetString(0), At: new ReceivedAt(row.GetInt64(1))))
        .ToDictionary(row => row.Channel, row => row.At, StringComparer.Ordinal));

    /// <summary>Notes that the channel took a notice.</summary>
    /// <exception cref="StorageUnavailableException">It was not noted: the notice will be sent again under the same key.</exception>
    public Task MarkSentAsync(string key, ReceivedAt at, CancellationToken cancellationToken) => WriteAsync(
        connection => connection.Statement("UPDATE outbox SET state = 2, finished_at = ?2, last_error = NULL WHERE key = ?1").Run(key, at.UnixMicroseconds),
        cancellationToken);

    /// <summary>Notes that an attempt failed.</summary>
    /// <param name="key">Which notice.</param>
    /// <param name="at">When it failed.</param>
    /// <param name="nextAttemptAt">When to try again; null gives the notice up.</param>
    /// <param name="error">What went wrong, without secrets.</param>
    /// <param name="cancellationToken">Counts while the work waits for room.</param>
    /// <exception cref="StorageUnavailableException">It was not noted: the notice is due again when its lease is over.</exception>
    public Task MarkFailedAsync(string key, ReceivedAt at, ReceivedAt? nextAttemptAt, string error, CancellationToken cancellationToken) => WriteAsync(
        connection => nextAttemptAt is { } next
            ? connection.Statement("UPDATE outbox SET next_attempt_at = ?2, last_error = ?3 WHERE key = ?1 AND state = 1").Run(key, next.UnixMicroseconds, error)
            : connection.Statement("UPDATE outbox SET state = 3, finished_at = ?2, last_error = ?3 WHERE key = ?1 AND state = 1").Run(key, at.UnixMicroseconds, error),
        cancellationToken);

    /// <summary>When the next notice is due, or null when none waits; at once for what was queued by a clock that was set back since.</summary>
    public ReceivedAt? ReadNextDue(ReceivedAt? now = null) => _reads.Read<ReceivedAt?>(read =>
        read.Statement("SELECT min(CASE WHEN created_at > ?1 THEN 0 ELSE next_attempt_at END) FROM outbox WHERE state = 1")
            .Number(now is { } at ? (at + ClockSlack).UnixMicroseconds : long.MaxValue) is { } due ? new ReceivedAt(due) : null);

    /// <summary>How many notices wait, and since when the oldest of those that are due does.</summary>
    public OutboxBacklog ReadOutboxState(ReceivedAt now) => _reads.Read(read => new OutboxBacklog(
        read.Statement("SELECT count(*) FROM outbox WHERE state = 1").Number() ?? 0,
        // One that failed waits for its next attempt and is due all the same; one that waits for the morning is not.
        read.Statement("SELECT min(created_at) FROM outbox WHERE state = 1 AND (next_attempt_at <= ?1 OR attempts > 0)").Number(now.UnixMicroseconds) is { } oldest
            ? new ReceivedAt(oldest)
            : null));

    /// <summary>The newest notices, newest first.</summary>
    public IReadOnlyList<OutboxRow> ReadOutbox(int limit) => _reads.Read<IReadOnlyList<OutboxRow>>(read => read
        .Statement($"SELECT {OutboxColumns} FROM outbox ORDER BY created_at DESC, key LIMIT ?1").List(Row, limit));

    private static OutboxRow Row(SqliteDataReader row) => new(
        row.GetString(0),
        row.GetString(1) is { Length: > 0 } batch ? new BatchId(batch) : null,
        row.GetString(2),
        row.GetString(3),
        new ReceivedAt(row.GetInt64(4)),
        new ReceivedAt(row.GetInt64(5)),
        row.GetInt32(6),
        (OutboxState)row.GetInt32(7),
        row.NumberOrNull(8) is { } finished ? new ReceivedAt(finished) : null,
        row.TextOrNull(9));
}
