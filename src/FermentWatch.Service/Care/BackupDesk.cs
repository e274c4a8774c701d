using System.Text.RegularExpressions;
using FermentWatch.Infrastructure.Storage;

namespace FermentWatch.Service.Care;

/// <summary>Where backups go and how often.</summary>
/// <param name="Folder">The directory; absolute.</param>
/// <param name="Every">How often one is made by itself; zero for never.</param>
/// <param name="Keep">How many of its own are kept there, 1 or more.</param>
public sealed record BackupSettings(string Folder, TimeSpan Every, int Keep)
{
    /// <summary>Whether backups are made by themselves.</summary>
    public bool IsScheduled => Every > TimeSpan.Zero;

    /// <summary>From when on the newest one is old: one was missed, or nobody made one for a week.</summary>
    public TimeSpan OldAfter => IsScheduled ? (Every * 2) + TimeSpan.FromHours(1) : TimeSpan.FromDays(8);
}

/// <summary>Makes backups, one at a time, and lets the oldest of its own go.</summary>
public sealed partial class BackupDesk(StoreOptions options, BackupSettings settings, TimeProvider clock) : IDisposable
{
    private readonly SemaphoreSlim _one = new(1, 1);
    private volatile string? _problem;

    /// <summary>Where and how often.</summary>
    public BackupSettings Settings => settings;

    /// <summary>Why the last one failed; null when it did not.</summary>
    public string? Problem => _problem;

    /// <summary>How old the newest backup is; null when there is none.</summary>
    public TimeSpan? Age(DateTimeOffset now) => Backup.NewestOf(options) is { } newest ? now - newest : null;

    /// <summary>Whether one is to be made by itself.</summary>
    public bool IsDue(DateTimeOffset now) => settings.IsScheduled && !(Age(now) < settings.Every);

    /// <summary>Makes a backup and compares it with the database.</summary>
    /// <exception cref="BackupException">None was made; the message says why.</exception>
    public async Task<BackupReport> MakeAsync(CancellationToken cancellationToken)
    {
        await _one.WaitAsync(cancellationToken);
        try
        {
            var now = clock.GetUtcNow();
            var report = await Task.Run(() => Make(now), cancellationToken);
            _problem = null;
            return report;
        }
        catch (BackupException failure)
        {
            _problem = failure.Message;
            throw;
        }
        finally
        {
            _one.Release();
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _one.Dispose();

    private BackupReport Make(DateTimeOffset now)
    {
        var report = Backup.MakeIn(options, settings.Folder, now);
        try
        {
            var own = Directory.GetFiles(settings.Folder).Where(file => OwnName().IsMatch(Path.GetFileName(file))).OrderByDescending(file => file, StringComparer.Ordinal);
            foreach (var old in own.Skip(settings.Keep))
            {
                File.Delete(old);
            }
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw new BackupException($"The backup '{report.Path}' is made, but an older one could not be deleted: {failure.Message}", failure);
        }

        return report;
    }

    /// <summary>Names that <see cref="Backup.MakeIn"/> gives: whatever else lies there is not ours to delete.</summary>
    [GeneratedRegex(@"\Afermentwatch-\d{8}T\d{6}Z\.db\z")]
    private static partial Regex OwnName();
}
