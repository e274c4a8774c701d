using Microsoft.Data.Sqlite;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>What a database of ours holds, read in one transaction.</summary>
/// <param name="Schema">Its schema, from 1 on.</param>
/// <param name="Rows">Rows by table.</param>
internal sealed record DatabaseContent(int Schema, IReadOnlyDictionary<string, long> Rows)
{
    /// <summary>All rows of all tables.</summary>
    public long Total => Rows.Values.Sum();

    /// <summary>Whether another database has the same schema and as many rows in every table.</summary>
    public bool Matches(DatabaseContent other) =>
        Schema == other.Schema && Rows.Count == other.Rows.Count && Rows.All(table => other.Rows.TryGetValue(table.Key, out var count) && count == table.Value);
}

/// <summary>Looks at a database file without changing it.</summary>
internal static class DatabaseCheck
{
    /// <summary>Opens a file for reading alone.</summary>
    public static SqliteConnection OpenForReading(string path)
    {
        var settings = new SqliteConnectionStringBuilder { DataSource = path, Mode = SqliteOpenMode.ReadOnly, Pooling = false, DefaultTimeout = 30 };
        var connection = new SqliteConnection(settings.ConnectionString);
        try
        {
            connection.Open();
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    /// <summary>Whether the file is ours, whole, and of a schema that this version knows; and what it holds.</summary>
    /// <exception cref="BackupException">It is not; the message says why.</exception>
    public static DatabaseContent Examine(string path)
    {
        try
        {
            using var connection = OpenForReading(path);
            using var transaction = connection.BeginTransaction(deferred: true);
            var content = ContentOf(connection, transaction, path);
            using var check = new Statement(connection, "PRAGMA integrity_check(1)", transaction);
            var answer = check.Text();
            return answer == "ok" ? content : throw Damaged(path, answer ?? "no answer");
        }
        catch (SqliteException failure) when (failure.SqliteErrorCode == 26)
        {
            throw new BackupException($"'{path}' is not a database. Give a file that 'fermentwatch backup' wrote.", failure);
        }
        catch (SqliteException failure) when (failure.SqliteErrorCode == 11)
        {
            throw Damaged(path, failure.Message, failure);
        }
        catch (SqliteException failure)
        {
            throw new BackupException($"'{path}' cannot be read: {failure.Message}", failure);
        }
    }

    /// <summary>What a database holds at the moment that a transaction sees.</summary>
    /// <exception cref="BackupException">Not ours, or of a schema that this version does not know.</exception>
    public static DatabaseContent ContentOf(SqliteConnection connection, SqliteTransaction transaction, string path)
    {
        var schema = (int)Number(connection, transaction, "PRAGMA user_version");
        if (Number(connection, transaction, "PRAGMA application_id") != Schema.ApplicationId || schema < 1)
        {
            throw new BackupException($"'{path}' is not a database of FermentWatch. Give a file that 'fermentwatch backup' wrote.");
        }

        if (schema > Migrations.Present)
        {
            throw new BackupException(
                $"'{path}' was written by a newer version of FermentWatch (schema {schema}; this version knows schemas up to {Migrations.Present}). Use that newer version.");
        }

        using var names = new Statement(connection, "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite~_%' ESCAPE '~'", transaction);
        var rows = names.List(row => row.GetString(0))
            .ToDictionary(name => name, name => Number(connection, transaction, $"SELECT count(*) FROM \"{name}\""), StringComparer.Ordinal);
        return new DatabaseContent(schema, rows);
    }

    private static long Number(SqliteConnection connection, SqliteTransaction transaction, string sql)
    {
        using var statement = new Statement(connection, sql, transaction);
        return statement.Number() ?? 0;
    }

    private static BackupException Damaged(string path, string what, Exception? cause = null) =>
        new($"'{path}' is damaged: {what.TrimEnd('.')}. It may be cut short: copy it again, or use an older backup.", cause);
}
