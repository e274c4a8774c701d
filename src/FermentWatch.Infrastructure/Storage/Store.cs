using Microsoft.Data.Sqlite;
using Microsoft.Extensions.Logging;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Everything that is kept: one database file in a data directory, written by one thread, read by anyone.</summary>
/// <remarks>
/// <para>Methods that end in Async write: they complete after their transaction reached the disk, or throw
/// <see cref="StorageUnavailableException"/> and wrote nothing. A cancellation counts only while the write waits for room in the queue.</para>
/// <para>All other methods read, at once and on the caller's thread, on read-only connections of their own, and see every commit before them.</para>
/// </remarks>
public sealed partial class Store : IAsyncDisposable
{
    private readonly StoreOptions _options;
    private readonly TimeProvider _clock;
    private readonly DirectoryLock _lock;
    private readonly WorkQueue _queue = new();
    private readonly WriterThread _writer;
    private readonly ReadConnections _reads;
    private volatile StorageHealth _health = new(true, null);
    private int _isDisposed;

    private Store(StoreOptions options, TimeProvider clock, ILogger log, DirectoryLock held, WriteConnection connection)
    {
        _options = options;
        _clock = clock;
        _lock = held;
        _reads = new ReadConnections(options.DatabasePath);
        _writer = new WriterThread(_queue, connection, Reopen, health => _health = health, took => Committed?.Invoke(took), log);
    }

    /// <summary>Told after each commit how long its transaction took; on the writer's thread, so be brief.</summary>
    public event Action<TimeSpan>? Committed;

    /// <summary>Whether the last commit worked.</summary>
    public StorageHealth Health => _health;

    /// <summary>A limit to the size of the database in pages, which stands in for a full disk in tests. It counts from the next opening on.</summary>
    internal int? MaximumPages { get; set; }

    /// <summary>Applies <see cref="MaximumPages"/> to the open connection.</summary>
    internal Task ApplyMaximumPagesAsync(CancellationToken cancellationToken) =>
        WriteAsync(connection => connection.Statement($"PRAGMA max_page_count = {MaximumPages ?? int.MaxValue}").Number(), cancellationToken);

    /// <summary>Opens the store in a data directory, which is created when needed, and brings its schema up to date.</summary>
    /// <exception cref="DataDirectoryException">The directory cannot be used; the message says why and what would be right.</exception>
    public static Store Open(StoreOptions options, TimeProvider clock, ILogger<Store> log)
    {
        var held = DirectoryLock.Take(options);
        WriteConnection? connection = null;
        try
        {
            connection = WriteConnection.Open(options.DatabasePath, maximumPages: null);
            connection.Migrate(options.DatabasePath, schema => KeepBeforeUpgrade(options, schema));
            Verify(connection, options.DatabasePath);
            return new Store(options, clock, log, held, connection);
        }
        catch (Exception failure)
        {
            connection?.Dispose();
            held.Dispose();
            if (failure is SqliteException or IOException or UnauthorizedAccessException)
            {
                throw Unusable(options, failure);
            }

            throw;
        }
    }

    /// <summary>Writes what waits, folds the log into the database file and gives the directory free.</summary>
    public async ValueTask DisposeAsync()
    {
        if (Interlocked.Exchange(ref _isDisposed, 1) != 0)
        {
            return;
        }

        _queue.Close();
        await Task.Run(_writer.Join).ConfigureAwait(false);
        _reads.Dispose();
        _lock.Dispose();
    }

    /// <summary>Queues work for the writer thread, behind messages that wait to be recorded.</summary>
    internal async Task<T> WriteAsync<T>(Func<WriteConnection, T> work, CancellationToken cancellationToken)
    {
        var item = new WorkItem<T>(work);
        await _queue.AddAsync(item, isMessage: false, cancellationToken).ConfigureAwait(false);
        return await item.Completion.ConfigureAwait(false);
    }

    /// <summary>Reading the whole file is for failures that may have harmed it; a full disk does not, and comes back with every message.</summary>
    private WriteConnection Reopen(bool mayBeDamaged)
    {
        var connection = WriteConnection.Open(_options.DatabasePath, MaximumPages);
        try
        {
            if (mayBeDamaged)
            {
                Verify(connection, _options.DatabasePath);
            }

            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    /// <summary>An upgrade cannot be undone in place: the database as it was is kept, compared, before anything changes.</summary>
    private static void KeepBeforeUpgrade(StoreOptions options, int schema)
    {
        try
        {
            DirectoryLock.CreateDirectory(Path.Combine(options.DataDirectory, Backup.FolderName));
            DatabaseCopy.Make(options.DatabasePath, options.CopyBeforeUpgrade(schema));
        }
        catch (Exception failure) when (failure is BackupException or DataDirectoryException or IOException or UnauthorizedAccessException)
        {
            throw new DataDirectoryException(
                DataDirectoryProblem.NotWritable,
                $"The database is to be brought up to date, and no copy of it could be kept before: {failure.Message} Make room, or move it to a larger disk. Nothing was changed.",
                failure);
        }
    }

    private static void Verify(WriteConnection connection, string path)
    {
        var answer = connection.QuickCheck();
        if (answer != "ok")
        {
            throw new DataDirectoryException(
                DataDirectoryProblem.Damaged,
                $"The database '{path}' is damaged: {answer}. Keep the file as it is, and start with a backup of it in its place.");
        }
    }

    private static DataDirectoryException Unusable(StoreOptions options, Exception failure)
    {
        var path = options.DatabasePath;
        return failure is SqliteException { SqliteErrorCode: 11 or 26 }
            ? new DataDirectoryException(
                DataDirectoryProblem.Damaged,
                $"'{path}' is damaged or not a database: {failure.Message} Keep the file as it is, and start with a backup of it in its place.",
                failure)
            : new DataDirectoryException(
                DataDirectoryProblem.NotWritable,
                $"The database '{path}' cannot be written: {failure.Message} "
                + "The user running the service needs to write there, on a disk that has free space and is not mounted read-only.",
                failure);
    }
}
