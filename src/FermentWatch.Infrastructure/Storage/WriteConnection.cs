using Microsoft.Data.Sqlite;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>The one connection that writes, with its prepared statements and what it remembers of the tables. Used by one thread at a time.</summary>
internal sealed class WriteConnection : IDisposable
{
    private const int BusyTimeoutMilliseconds = 5000;

    private readonly SqliteConnection _connection;
    private readonly Dictionary<string, Statement> _statements = new(StringComparer.Ordinal);

    private WriteConnection(SqliteConnection connection)
    {
        _connection = connection;
        Memory = new WriterMemory(this);
    }

    /// <summary>What the writer remembers of the tables; forgotten whenever a transaction is rolled back.</summary>
    public WriterMemory Memory { get; private set; }

    /// <summary>Opens the database for writing, without looking into it.</summary>
    /// <param name="path">The database file; created when missing, for its owner only.</param>
    /// <param name="maximumPages">A limit to its size in pages, or null.</param>
    public static WriteConnection Open(string path, int? maximumPages)
    {
        CreateForOwnerOnly(path);
        var settings = new SqliteConnectionStringBuilder
        {
            DataSource = path,
            Mode = SqliteOpenMode.ReadWriteCreate,
            Pooling = false,
            // The library's own retry loop ends with this; the engine's busy timeout below does the waiting.
            DefaultTimeout = 1,
        };
        var connection = new SqliteConnection(settings.ConnectionString);
        try
        {
            connection.Open();
            using var command = connection.CreateCommand();
            command.CommandText = $"""
                PRAGMA busy_timeout = {BusyTimeoutMilliseconds};
                PRAGMA journal_mode = WAL;
                PRAGMA synchronous = FULL;
                PRAGMA foreign_keys = ON;
                PRAGMA temp_store = MEMORY;
                PRAGMA cache_size = -16384;
                """ + (maximumPages is { } pages ? $"PRAGMA max_page_count = {pages};" : string.Empty);
            command.ExecuteNonQuery();
            return new WriteConnection(connection);
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    /// <summary>A statement that stays prepared for the life of the connection.</summary>
    public Statement Statement(string sql)
    {
        if (!_statements.TryGetValue(sql, out var statement))
        {
            statement = new Statement(_connection, sql);
            _statements.Add(sql, statement);
        }

        return statement;
    }

    /// <summary>Brings the schema up to date.</summary>
    /// <param name="path">The database file.</param>
    /// <param name="keepCopy">Called before the first step on a database that holds something, with its present schema.</param>
    /// <param name="before">Called before each statement; null for nothing.</param>
    public void Migrate(string path, Action<int>? keepCopy = null, Action<string>? before = null) => Migrations.Apply(_connection, path, keepCopy, before);

    /// <summary>Reads the whole file and compares its structure. The word <c>ok</c>, or what is wrong.</summary>
    public string QuickCheck()
    {
        using var statement = new Statement(_connection, "PRAGMA quick_check(1)");
        return statement.Text() ?? "no answer";
    }

    /// <summary>Begins a transaction.</summary>
    public void Begin() => Statement("BEGIN IMMEDIATE").Run();

    /// <summary>Writes what the memory gathered, and commits; returns after the fsync.</summary>
    public void Commit()
    {
        Memory.Flush();
        Statement("COMMIT").Run();
    }

    /// <summary>Undoes the transaction and forgets what it taught.</summary>
    public void Rollback()
    {
        Memory = new WriterMemory(this);
        Statement("ROLLBACK").Run();
    }

    /// <summary>Moves the write-ahead log into the database file, for a clean stop.</summary>
    public void Checkpoint()
    {
        using var statement = new Statement(_connection, "PRAGMA wal_checkpoint(TRUNCATE)");
        statement.Number();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (var statement in _statements.Values)
        {
            statement.Dispose();
        }

        _statements.Clear();
        _connection.Dispose();
    }

    /// <summary>The engine gives its log and index files the permissions of the database file.</summary>
    private static void CreateForOwnerOnly(string path)
    {
        if (!OperatingSystem.IsWindows() && !File.Exists(path))
        {
            using var file = new FileStream(path, new FileStreamOptions
            {
                Mode = FileMode.OpenOrCreate,
                Access = FileAccess.Write,
                UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite,
            });
        }
    }
}
