namespace FermentWatch.Infrastructure.Storage;

/// <summary>What a database holds, in numbers alone.</summary>
/// <param name="Schema">Its schema.</param>
/// <param name="Bytes">Size of its file.</param>
/// <param name="LogBytes">Size of its write-ahead log.</param>
/// <param name="Rows">Rows by table.</param>
public sealed record DatabaseFacts(int Schema, long Bytes, long LogBytes, IReadOnlyDictionary<string, long> Rows)
{
    /// <summary>Looks into the database of a data directory, also while a service works on it.</summary>
    /// <exception cref="DataDirectoryException">There is none, or it cannot be read.</exception>
    public static DatabaseFacts Of(StoreOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        if (!File.Exists(options.DatabasePath))
        {
            throw new DataDirectoryException(DataDirectoryProblem.NotWritable, $"There is no data in '{options.DataDirectory}'. Give the directory of the service with --data DIR.");
        }

        try
        {
            using var connection = DatabaseCheck.OpenForReading(options.DatabasePath);
            using var transaction = connection.BeginTransaction(deferred: true);
            var content = DatabaseCheck.ContentOf(connection, transaction, options.DatabasePath);
            return new DatabaseFacts(content.Schema, SizeOf(options.DatabasePath), SizeOf(options.DatabasePath + "-wal"), content.Rows);
        }
        catch (Exception failure) when (failure is BackupException or Microsoft.Data.Sqlite.SqliteException)
        {
            throw new DataDirectoryException(DataDirectoryProblem.Damaged, failure.Message, failure);
        }
    }

    private static long SizeOf(string path) => new FileInfo(path) is { Exists: true } file ? file.Length : 0;
}
