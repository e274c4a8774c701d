using Microsoft.Data.Sqlite;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Copies a database while it may be written, and compares the copy before it gets its name.</summary>
internal static class DatabaseCopy
{
    /// <summary>Makes the copy. It holds one state of the source, is a single file, and is its owner's alone.</summary>
    /// <param name="source">A database of ours.</param>
    /// <param name="target">Where the copy goes; a file that is there is replaced, and only once the copy has been compared.</param>
    /// <exception cref="BackupException">The source is none of ours, or the copy differs; no file was left at the target.</exception>
    public static DatabaseContent Make(string source, string target)
    {
        var unfinished = target + ".unfinished";
        try
        {
            CreateForOwnerOnly(unfinished);
            var content = Fill(source, unfinished);
            var copied = DatabaseCheck.Examine(unfinished);
            if (!content.Matches(copied))
            {
                throw new BackupException($"The copy of '{source}' does not hold what the source held. Check the disk at '{target}', and try again.");
            }

            Flush(unfinished);
            File.Move(unfinished, target, overwrite: true);
            return content;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or SqliteException)
        {
            throw new BackupException($"'{source}' could not be copied to '{target}': {failure.Message}", failure);
        }
        finally
        {
            Discard(unfinished);
        }
    }

    private static DatabaseContent Fill(string source, string target)
    {
        using var from = DatabaseCheck.OpenForReading(source);
        // The counts and the copy are taken within one transaction: of one moment, whatever is written meanwhile.
        using var transaction = from.BeginTransaction(deferred: true);
        var content = DatabaseCheck.ContentOf(from, transaction, source);
        var settings = new SqliteConnectionStringBuilder { DataSource = target, Mode = SqliteOpenMode.ReadWrite, Pooling = false };
        using var to = new SqliteConnection(settings.ConnectionString);
        to.Open();
        from.BackupDatabase(to);
        // Without the log's mark in the header the copy stays one file when it is opened.
        using var single = new Statement(to, "PRAGMA journal_mode = DELETE");
        single.Text();
        return content;
    }

    private static void CreateForOwnerOnly(string path)
    {
        Discard(path);
        var settings = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows())
        {
            settings.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        }

        using var file = new FileStream(path, settings);
    }

    private static void Flush(string path)
    {
        using var file = new FileStream(path, FileMode.Open, FileAccess.ReadWrite);
        file.Flush(flushToDisk: true);
    }

    private static void Discard(string path)
    {
        foreach (var end in (string[])["", "-journal", "-wal", "-shm"])
        {
            File.Delete(path + end);
        }
    }
}
