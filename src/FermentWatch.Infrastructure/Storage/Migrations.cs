using Microsoft.Data.Sqlite;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Brings a database to the present schema, one transaction a step, the version number last within each.</summary>
internal static class Migrations
{
    /// <summary>The schema that this version of the program reads and writes.</summary>
    public static int Present => Schema.Scripts.Count;

    /// <summary>Checks whose file it is and brings it up to date.</summary>
    /// <exception cref="DataDirectoryException">Another program's database, or one from a newer version.</exception>
    /// <param name="connection">The open database.</param>
    /// <param name="path">Its file.</param>
    /// <param name="keepCopy">Called before the first step on a database that holds something, with its present schema.</param>
    /// <param name="before">Called before each statement; null for nothing.</param>
    public static void Apply(SqliteConnection connection, string path, Action<int>? keepCopy = null, Action<string>? before = null)
    {
        var version = Pragma(connection, "user_version");
        var application = Pragma(connection, "application_id");
        if (application != Schema.ApplicationId && (application != 0 || version != 0 || HasTables(connection)))
        {
            throw new DataDirectoryException(
                DataDirectoryProblem.ForeignFile,
                $"'{path}' is a database of another program. Move it away, or give another data directory with --data.");
        }

        if (version > Present)
        {
            throw new DataDirectoryException(
                DataDirectoryProblem.NewerSchema,
                $"'{path}' was written by a newer version of FermentWatch (schema {version}; this version knows schemas up to {Present}). "
                + "Start that newer version, or restore a backup made before the upgrade. Nothing was changed.");
        }

        if (version > 0 && version < Present)
        {
            keepCopy?.Invoke(version);
        }

        for (var next = version + 1; next <= Present; next++)
        {
            Step(connection, Schema.Scripts[next - 1], next, before);
        }
    }

    private static void Step(SqliteConnection connection, string script, int version, Action<string>? before)
    {
        using var transaction = connection.BeginTransaction(deferred: false);
        foreach (var statement in Statements(script).Append($"PRAGMA application_id = {Schema.ApplicationId};").Append($"PRAGMA user_version = {version};"))
        {
            before?.Invoke(statement);
            Execute(connection, transaction, statement);
        }

        before?.Invoke("COMMIT");
        transaction.Commit();
    }

    /// <summary>The statements of a script, as the engine itself tells where one ends.</summary>
    private static IEnumerable<string> Statements(string script)
    {
        var from = 0;
        for (var at = script.IndexOf(';', StringComparison.Ordinal); at >= 0; at = script.IndexOf(';', at + 1))
        {
            var statement = script[from..(at + 1)];
            if (SQLitePCL.raw.sqlite3_complete(statement) != 0)
            {
                from = at + 1;
                yield return statement;
            }
        }
    }

    private static void Execute(SqliteConnection connection, SqliteTransaction transaction, string sql)
    {
        using var command = connection.CreateCommand();
        command.Transaction = transaction;
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }

    private static int Pragma(SqliteConnection connection, string name)
    {
        using var statement = new Statement(connection, $"PRAGMA {name}");
        return (int)(statement.Number() ?? 0);
    }

    private static bool HasTables(SqliteConnection connection)
    {
        using var statement = new Statement(connection, "SELECT count(*) FROM sqlite_master");
        return statement.Number() > 0;
    }
}
