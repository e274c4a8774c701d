using System.Globalization;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>What a backup or a restore moved.</summary>
/// <param name="Path">The file that was written.</param>
/// <param name="Schema">Schema of the database.</param>
/// <param name="Rows">Rows of all tables, compared table by table.</param>
/// <param name="SetAside">Where the database before went; null when there was none.</param>
public sealed record BackupReport(string Path, int Schema, long Rows, string? SetAside);

/// <summary>A verified copy of the database in one file, and the way back.</summary>
/// <remarks>
/// The file holds all that the database holds: readings, messages, batches, photos, people with their passwords' hashes. It does not hold the
/// settings file and the keys (<c>keys/</c>), without which passwords of brokers and channels in it cannot be read by anybody.
/// </remarks>
public static class Backup
{
    /// <summary>Directory of backups within the data directory, unless another place is given.</summary>
    public const string FolderName = "backups";

    /// <summary>Its time of writing says when the newest backup was made; its text says where.</summary>
    public const string MarkName = "fermentwatch.backup";

    /// <summary>Copies the database of a data directory, also while a service works on it.</summary>
    /// <param name="options">The data directory.</param>
    /// <param name="target">The file to write; null for one in <see cref="FolderName"/> named after the time.</param>
    /// <param name="now">The time.</param>
    /// <exception cref="BackupException">No backup was made.</exception>
    public static BackupReport Make(StoreOptions options, string? target, DateTimeOffset now)
    {
        if (!File.Exists(options.DatabasePath))
        {
            throw new BackupException($"There is no data in '{options.DataDirectory}'. Give the directory of the service with --data DIR.");
        }

        var path = Path.GetFullPath(target ?? Path.Combine(options.DataDirectory, FolderName, $"fermentwatch-{Stamp(now)}.db"));
        if (Directory.Exists(path))
        {
            throw new BackupException($"'{path}' is a directory. Give the name of a file in it with --to FILE.");
        }

        if (path == Path.GetFullPath(options.DatabasePath))
        {
            throw new BackupException($"'{path}' is the database itself. Give another file with --to FILE.");
        }

        try
        {
            if (target is null)
            {
                DirectoryLock.CreateDirectory(Path.GetDirectoryName(path)!);
            }

            var content = DatabaseCopy.Make(options.DatabasePath, path);
            File.WriteAllText(Path.Combine(options.DataDirectory, MarkName), path + "\n");
            return new BackupReport(path, content.Schema, content.Total, null);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or DataDirectoryException)
        {
            throw new BackupException($"The backup '{path}' could not be noted: {failure.Message}", failure);
        }
    }

    /// <summary>The same, into a directory of backups, named after the time; the directory is made when needed, for its owner only.</summary>
    /// <exception cref="BackupException">No backup was made.</exception>
    public static BackupReport MakeIn(StoreOptions options, string folder, DateTimeOffset now)
    {
        try
        {
            DirectoryLock.CreateDirectory(folder);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or DataDirectoryException)
        {
            throw new BackupException($"The directory of backups '{folder}' cannot be used: {failure.Message}", failure);
        }

        return Make(options, Path.Combine(folder, $"fermentwatch-{Stamp(now)}.db"), now);
    }

    /// <summary>When the newest backup was made; null when none was.</summary>
    public static DateTimeOffset? NewestOf(StoreOptions options)
    {
        var mark = new FileInfo(Path.Combine(options.DataDirectory, MarkName));
        return mark.Exists ? mark.LastWriteTimeUtc : null;
    }

    /// <summary>Puts a backup in the place of the database. The file is examined first; a bad one changes nothing.</summary>
    /// <param name="file">A file that <see cref="Make"/> wrote.</param>
    /// <param name="options">The data directory; created when needed.</param>
    /// <param name="replace">Whether a database that is there may be set aside.</param>
    /// <param name="now">The time, which names the place where the old one goes.</param>
    /// <exception cref="BackupException">The file is bad, or there is a database and it may not be replaced.</exception>
    /// <exception cref="DataDirectoryException">The directory is in use or cannot be written.</exception>
    public static BackupReport Restore(string file, StoreOptions options, bool replace, DateTimeOffset now)
    {
        if (!File.Exists(file))
        {
            throw new BackupException($"There is no file '{file}'.");
        }

        DatabaseCheck.Examine(file);
        using var held = DirectoryLock.Take(options);
        if (File.Exists(options.DatabasePath) && !replace)
        {
            throw new BackupException(
                $"There is a database in '{options.DataDirectory}' already. Give an empty directory with --data DIR, or --replace to set the old one aside.");
        }

        var ready = options.DatabasePath + ".restored";
        var content = DatabaseCopy.Make(file, ready);
        try
        {
            var aside = SetAside(options, now);
            File.Move(ready, options.DatabasePath);
            return new BackupReport(options.DatabasePath, content.Schema, content.Total, aside);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw new BackupException($"The backup lies at '{ready}' but could not be put in place: {failure.Message}", failure);
        }
    }

    /// <summary>The log moves with its database: what it holds was committed.</summary>
    private static string? SetAside(StoreOptions options, DateTimeOffset now)
    {
        if (!File.Exists(options.DatabasePath))
        {
            return null;
        }

        var folder = Path.Combine(options.DataDirectory, $"before-restore-{Stamp(now)}");
        DirectoryLock.CreateDirectory(folder);
        foreach (var end in (string[])["-wal", "-shm", ""])
        {
            if (File.Exists(options.DatabasePath + end))
            {
                File.Move(options.DatabasePath + end, Path.Combine(folder, StoreOptions.FileName + end));
            }
        }

        return folder;
    }

    private static string Stamp(DateTimeOffset now) => now.UtcDateTime.ToString("yyyyMMdd'T'HHmmss'Z'", CultureInfo.InvariantCulture);
}
