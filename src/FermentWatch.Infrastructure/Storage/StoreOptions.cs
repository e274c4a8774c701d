namespace FermentWatch.Infrastructure.Storage;

/// <summary>Where the store lives and how long it keeps raw messages.</summary>
/// <param name="DataDirectory">The data directory. Created, for its owner only, when it does not exist.</param>
public sealed record StoreOptions(string DataDirectory)
{
    /// <summary>Name of the database within the data directory.</summary>
    public const string FileName = "fermentwatch.db";

    /// <summary>Name of the file whose lock says that a service works on the directory.</summary>
    public const string LockFileName = "fermentwatch.lock";

    /// <summary>How long a decoded raw message is kept. Default 14 days; more than zero.</summary>
    public TimeSpan InboxRetention { get; init; } = TimeSpan.FromDays(14);

    /// <summary>How much room decoded raw messages may take, oldest pruned first. [bytes] Default 256 MB; more than zero.</summary>
    public long InboxMaximumBytes { get; init; } = 256L * 1024 * 1024;

    /// <summary>The database file.</summary>
    public string DatabasePath => Path.Combine(DataDirectory, FileName);

    /// <summary>Names the process that holds the lock, for the message to the one that it keeps out.</summary>
    internal string HolderPath => Path.Combine(DataDirectory, "fermentwatch.pid");

    /// <summary>The copy that is kept of a database before it is brought up from a schema.</summary>
    public string CopyBeforeUpgrade(int schema) =>
        Path.Combine(DataDirectory, Backup.FolderName, string.Create(System.Globalization.CultureInfo.InvariantCulture, $"before-upgrade-from-schema-{schema}.db"));

    /// <summary>The lock file.</summary>
    public string LockPath => Path.Combine(DataDirectory, LockFileName);
}
