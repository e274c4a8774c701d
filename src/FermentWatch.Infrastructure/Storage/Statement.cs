using System.Globalization;
using Microsoft.Data.Sqlite;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>A prepared statement whose parameters are ?1, ?2, ... in the order given.</summary>
internal sealed class Statement : IDisposable
{
    private readonly SqliteCommand _command;

    public Statement(SqliteConnection connection, string sql, SqliteTransaction? transaction = null)
    {
        _command = connection.CreateCommand();
        _command.Transaction = transaction;
        _command.CommandText = sql;
        _command.Prepare();
    }

    /// <summary>Runs it and returns the number of rows changed.</summary>
    public int Run(params ReadOnlySpan<object?> values)
    {
        Bind(values);
        return _command.ExecuteNonQuery();
    }

    /// <summary>The first column of the first row as a whole number, or null when there is none.</summary>
    public long? Number(params ReadOnlySpan<object?> values)
    {
        Bind(values);
        return _command.ExecuteScalar() is { } value and not DBNull ? Convert.ToInt64(value, CultureInfo.InvariantCulture) : null;
    }

    /// <summary>The first column of the first row as text, or null when there is none.</summary>
    public string? Text(params ReadOnlySpan<object?> values)
    {
        Bind(values);
        return _command.ExecuteScalar() as string;
    }

    /// <summary>Rows; close the reader before the statement runs again.</summary>
    public SqliteDataReader Rows(params ReadOnlySpan<object?> values)
    {
        Bind(values);
        return _command.ExecuteReader();
    }

    /// <summary>All rows, each read by <paramref name="row"/>.</summary>
    public List<T> List<T>(Func<SqliteDataReader, T> row, params ReadOnlySpan<object?> values)
    {
        using var rows = Rows(values);
        var list = new List<T>();
        while (rows.Read())
        {
            list.Add(row(rows));
        }

        return list;
    }

    /// <inheritdoc/>
    public void Dispose() => _command.Dispose();

    private void Bind(ReadOnlySpan<object?> values)
    {
        var parameters = _command.Parameters;
        for (var i = 0; i < values.Length; i++)
        {
            if (i == parameters.Count)
            {
                parameters.Add(new SqliteParameter { ParameterName = "?" + (i + 1).ToString(CultureInfo.InvariantCulture) });
            }

            parameters[i].Value = values[i] ?? DBNull.Value;
        }
    }
}

/// <summary>Columns that may be null.</summary>
internal static class NullableColumns
{
    public static long? NumberOrNull(this SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.GetInt64(column);

    public static double? RealOrNull(this SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.GetDouble(column);

    public static string? TextOrNull(this SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.GetString(column);

    public static byte[] Bytes(this SqliteDataReader row, int column) => row.IsDBNull(column) ? [] : row.GetFieldValue<byte[]>(column);
}
