using System.Diagnostics;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.Logging;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>The thread that owns the write connection. The database library is synchronous, and so is all work here.</summary>
/// <remarks>
/// A failed commit leaves nothing half-done: every waiter of that transaction is told, the connection is dropped, and the next
/// item finds a new one that was verified against the last commit that was answered for.
/// </remarks>
internal sealed class WriterThread
{
    private readonly WorkQueue _queue;
    private readonly Func<bool, WriteConnection> _reopen;
    private readonly Action<StorageHealth> _report;
    private readonly Action<TimeSpan> _committed;
    private readonly ILogger _log;
    private readonly Thread _thread;
    private WriteConnection? _connection;
    private long _lastCommitted;
    private bool _failing;
    private bool _mayBeDamaged;

    public WriterThread(WorkQueue queue, WriteConnection connection, Func<bool, WriteConnection> reopen, Action<StorageHealth> report, Action<TimeSpan> committed, ILogger log)
    {
        _queue = queue;
        _connection = connection;
        _reopen = reopen;
        _report = report;
        _committed = committed;
        _log = log;
        _lastCommitted = connection.Memory.LastSequence;
        _thread = new Thread(Run) { IsBackground = true, Name = "FermentWatch store writer" };
        _thread.Start();
    }

    /// <summary>Waits until everything that was queued is written, then closes the connection.</summary>
    public void Join() => _thread.Join();

    private void Run()
    {
        var group = new List<WorkItem>();
        var areMessages = false;
        while (_queue.Take(group, workFirst: areMessages, out areMessages))
        {
            Commit(group);
            _queue.Release(group.Count, areMessages);
            group.Clear();
        }

        Close();
    }

    private void Commit(List<WorkItem> group)
    {
        try
        {
            var connection = _connection ??= Reopen();
            var began = Stopwatch.GetTimestamp();
            connection.Begin();
            foreach (var item in group)
            {
                item.Execute(connection);
            }

            connection.Commit();
            _committed(Stopwatch.GetElapsedTime(began));
            _lastCommitted = connection.Memory.LastSequence;
            Recovered();
        }
        catch (Exception failure) when (IsStorageFailure(failure))
        {
            Abandon(failure, group);
            return;
        }
        catch (Exception fault) when (fault is not OutOfMemoryException)
        {
            // The item's own fault (a constraint, an argument): the storage is fine, and its neighbors must not suffer.
            Isolate(fault, group);
            return;
        }

        foreach (var item in group)
        {
            item.Complete();
        }
    }

    private void Isolate(Exception fault, List<WorkItem> group)
    {
        try
        {
            _connection!.Rollback();
        }
        catch (SqliteException failure)
        {
            Abandon(failure, group);
            return;
        }

        if (group.Count == 1)
        {
            group[0].Fail(fault);
            return;
        }

        foreach (var item in group)
        {
            Commit([item]);
        }
    }

    private void Abandon(Exception failure, List<WorkItem> group)
    {
        // One line for the loss: what follows while it lasts says nothing new.
        _log.Log(_failing ? LogLevel.Debug : LogLevel.Error, failure, "A write could not be committed; {Count} items are refused and the database is opened again", group.Count);
        _failing = true;
        _mayBeDamaged |= MayHaveDamaged(failure);
        _report(new StorageHealth(false, failure.Message));
        DropConnection();
        foreach (var item in group)
        {
            item.Fail(new StorageUnavailableException($"The write could not be committed: {failure.Message}", failure));
        }
    }

    private WriteConnection Reopen()
    {
        var connection = _reopen(_mayBeDamaged);
        var last = connection.Memory.LastSequence;
        if (last < _lastCommitted)
        {
            connection.Dispose();
            throw new StorageUnavailableException(
                $"The database lost messages that were committed: it ends at {last}, the last one committed was {_lastCommitted}.");
        }

        return connection;
    }

    /// <summary>Only a commit that worked proves that the storage does.</summary>
    private void Recovered()
    {
        if (_failing)
        {
            _failing = false;
            _mayBeDamaged = false;
            _log.LogInformation("The database can be written again");
            _report(new StorageHealth(true, null));
        }
    }

    private void DropConnection()
    {
        try
        {
            _connection?.Dispose();
        }
        catch (SqliteException failure)
        {
            _log.LogWarning(failure, "The failing database connection did not close cleanly");
        }

        _connection = null;
    }

    private void Close()
    {
        try
        {
            _connection?.Checkpoint();
        }
        catch (SqliteException failure)
        {
            // The log is complete without it: the next start reads it.
            _log.LogWarning(failure, "The write-ahead log could not be folded into the database at the stop");
        }

        DropConnection();
    }

    /// <summary>Whether the file itself is in doubt: 10 read or write error, 11 damaged, 26 not a database.</summary>
    private static bool MayHaveDamaged(Exception failure) =>
        failure is not SqliteException sqlite || sqlite.SqliteErrorCode is 10 or 11 or 26;

    /// <summary>Whether the storage failed, rather than the item: result codes of the engine [SQLite result codes, sqlite.org/rescode.html].</summary>
    private static bool IsStorageFailure(Exception failure) => failure switch
    {
        StorageUnavailableException or DataDirectoryException or IOException or UnauthorizedAccessException => true,
        // 1 error in the statement, 18 too big, 19 constraint, 20 mismatch, 21 misuse, 25 range.
        SqliteException sqlite => sqlite.SqliteErrorCode is not (1 or 18 or 19 or 20 or 21 or 25),
        _ => false,
    };
}

/// <summary>Whether the store can write at present.</summary>
/// <param name="Writable">False since a commit failed and until one worked again.</param>
/// <param name="Problem">What failed, or null.</param>
public sealed record StorageHealth(bool Writable, string? Problem);
