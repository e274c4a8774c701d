using FermentWatch.Infrastructure.Influx;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard;
using FermentWatch.Service.Pipeline;

namespace FermentWatch.Service.Care;

/// <summary>Asks every part of the service how it is.</summary>
public sealed class HealthReader(Store store, BrokerLink broker, Board board, BackupDesk backups, DashboardOptions options, IServiceProvider services, TimeProvider clock)
{
    private static readonly TimeSpan QuietForLong = TimeSpan.FromHours(24);
    private static readonly TimeSpan OutboxLate = TimeSpan.FromHours(1);

    /// <summary>How the service is now.</summary>
    public HealthReport Read()
    {
        var now = clock.GetUtcNow();
        try
        {
            return new HealthReport([Broker(), Storage(), Judging(now), Readings(now), Outbox(now), Backups(now), .. Copy()]);
        }
        catch (StorageUnavailableException)
        {
            return new HealthReport([Broker(), Of("storage", Condition.Failing, "health-storage-unread")]);
        }
    }

    private static HealthCheck Of(string name, Condition condition, string text, params object[] values) => new(name, condition, CareText.Of(text, values));

    private HealthCheck Broker() => broker.IsUp ? Of("broker", Condition.Ok, "health-broker-ok") : Of("broker", Condition.Failing, "health-broker-down");

    private HealthCheck Storage() => store.Health.Writable ? Of("storage", Condition.Ok, "health-storage-ok") : Of("storage", Condition.Failing, "health-storage-failing");

    private HealthCheck Judging(DateTimeOffset now)
    {
        var age = now - board.State.Snapshot.ComputedAt;
        return age <= options.StaleAfter ? Of("judging", Condition.Ok, "health-judging-ok") : Of("judging", Condition.Failing, "health-judging-old", CareText.Length(age));
    }

    private HealthCheck Readings(DateTimeOffset now)
    {
        var newest = store.ReadSeries().Select(series => series.LastReceivedAt).Max();
        if (newest is not { } last)
        {
            return Of("readings", Condition.Ok, "health-readings-none");
        }

        var age = now - last.ToDateTimeOffset();
        var isWanted = board.State.Snapshot.Entries.Any(entry => entry.View.Sensors.Count > 0);
        return isWanted && age > QuietForLong
            ? Of("readings", Condition.Attention, "health-readings-quiet", CareText.Length(age))
            : Of("readings", Condition.Ok, "health-readings-ok", Dashboard.Words.Reader.Ago(age));
    }

    private HealthCheck Outbox(DateTimeOffset now)
    {
        var state = store.ReadOutboxState(ReceivedAt.From(now));
        var age = state.OldestDue is { } oldest ? now - oldest.ToDateTimeOffset() : TimeSpan.Zero;
        return age > OutboxLate
            ? Of("outbox", Condition.Attention, "health-outbox-late", state.Waiting, CareText.Length(age))
            : Of("outbox", Condition.Ok, "health-outbox-ok", state.Waiting);
    }

    private HealthCheck Backups(DateTimeOffset now)
    {
        if (backups.Problem is { } problem)
        {
            return Of("backup", Condition.Attention, "health-backup-failed", problem);
        }

        return backups.Age(now) switch
        {
            null when backups.Settings.IsScheduled => Of("backup", Condition.Ok, "health-backup-soon"),
            null => Of("backup", Condition.Attention, "health-backup-none"),
            { } age when age > backups.Settings.OldAfter => Of("backup", Condition.Attention, "health-backup-old", CareText.Length(age)),
            { } age => Of("backup", Condition.Ok, "health-backup-ok", CareText.Length(age)),
        };
    }

    private IEnumerable<HealthCheck> Copy()
    {
        if (services.GetService<InfluxCopier>() is { } copier)
        {
            yield return copier.Status.Problem is null
                ? Of("copy", Condition.Ok, "health-copy-ok", store.ReadChangeBacklog().Changes)
                : Of("copy", Condition.Attention, "health-copy-waits", store.ReadChangeBacklog().Changes);
        }
    }
}
