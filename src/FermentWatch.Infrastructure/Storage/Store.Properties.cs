namespace FermentWatch.Infrastructure.Storage;

/// <summary>What the service remembers about itself.</summary>
public sealed partial class Store
{
    /// <summary>The value kept under a name; the first time, <paramref name="first"/> is kept and returned.</summary>
    /// <param name="name">Lower-case words joined by hyphens.</param>
    /// <param name="first">What to keep when nothing is there yet.</param>
    /// <param name="cancellationToken">Counts while the work waits for room.</param>
    /// <exception cref="StorageUnavailableException">Nothing was kept.</exception>
    public Task<string> KeepPropertyAsync(string name, string first, CancellationToken cancellationToken) => WriteAsync(
        connection =>
        {
            connection.Statement("INSERT OR IGNORE INTO property (name, value) VALUES (?1, ?2)").Run(name, first);
            return connection.Statement("SELECT value FROM property WHERE name = ?1").Text(name)!;
        },
        cancellationToken);
}
