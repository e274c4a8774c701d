using Microsoft.Data.Sqlite;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Read-only connections, pooled by the database library.</summary>
internal sealed class ReadConnections : IDisposable
{
    private readonly string _settings;

    public ReadConnections(string path) => _settings = new SqliteConnectionStringBuilder
    {
        DataSource = path,
        Mode = SqliteOpenMode.ReadOnly,
        Pooling = true,
        DefaultTimeout = 5,
    }.ConnectionString;

    /// <summary>Runs a query. All that it reads is one state of the database.</summary>
    /// <exception cref="StorageUnavailableException">The database cannot be read.</exception>
    public T Read<T>(Func<ReadConnection, T> query)
    {
        try
        {
            using var connection = new SqliteConnection(_settings);
            connection.Open();
            using var transaction = connection.BeginTransaction(deferred: true);
            using var read = new ReadConnection(connection, transaction);
            return query(read);
        }
        catch (SqliteException failure)
        {
            throw new StorageUnavailableException($"The database could not be read: {failure.Message}", failure);
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        using var any = new SqliteConnection(_settings);
        SqliteConnection.ClearPool(any);
    }
}

/// <summary>One reader's view of the database.</summary>
internal sealed class ReadConnection(SqliteConnection connection, SqliteTransaction transaction) : IDisposable
{
    private readonly List<Statement> _statements = [];

    /// <summary>A statement that lives as long as the read.</summary>
    public Statement Statement(string sql)
    {
        var statement = new Statement(connection, sql, transaction);
        _statements.Add(statement);
        return statement;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (var statement in _statements)
        {
            statement.Dispose();
        }
    }
}
