using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Services;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Care;

namespace FermentWatch.Service.Pipeline;

/// <summary>Reads how the service itself is.</summary>
internal static class ServiceReading
{
    /// <summary>The facts of now.</summary>
    public static ServiceFacts Of(Store store, BrokerLink broker, BackupDesk backups, string directory, AlertSettings settings, int outboxRows)
    {
        var rows = store.ReadOutbox(outboxRows);
        return new ServiceFacts(
            broker.IsUp,
            broker.LastMessageAt,
            Space(directory),
            !store.Health.Writable,
            Backup(backups, directory),
            ValueList.Of(settings.Listeners.Select(listener => Channel(listener.Name, rows))));
    }

    /// <summary>Failures of a channel since its last success.</summary>
    public static ChannelFact Channel(string name, IReadOnlyList<OutboxRow> rows)
    {
        var mine = rows.Where(row => row.Channel == name).ToList();
        var success = mine.Where(row => row.State is OutboxState.Sent).Max(row => row.FinishedAt);
        var failed = mine
            .Where(row => row.State is OutboxState.Waiting or OutboxState.GivenUp && row.LastError is not null && (success is not { } at || row.CreatedAt > at || row.State is OutboxState.Waiting))
            .ToList();
        return new ChannelFact(name, failed.Sum(row => row.Attempts), failed.Count == 0 ? null : failed.Min(row => row.CreatedAt));
    }

    private static DiskSpace? Space(string directory)
    {
        try
        {
            var drive = new DriveInfo(Path.GetFullPath(directory));
            return new DiskSpace(drive.AvailableFreeSpace, drive.TotalSize);
        }
        catch (IOException)
        {
            return null;
        }
        catch (UnauthorizedAccessException)
        {
            return null;
        }
    }

    private static BackupFact Backup(BackupDesk backups, string directory)
    {
        var newest = Infrastructure.Storage.Backup.NewestOf(new StoreOptions(directory));
        var began = File.GetCreationTimeUtc(new StoreOptions(directory).DatabasePath);
        return new BackupFact(
            newest is { } made ? ReceivedAt.From(made) : null,
            ReceivedAt.From(new DateTimeOffset(DateTime.SpecifyKind(began, DateTimeKind.Utc))),
            IsSound: backups.Problem is null);
    }
}
