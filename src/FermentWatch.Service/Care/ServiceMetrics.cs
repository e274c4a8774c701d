using FermentWatch.Infrastructure.Influx;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard;
using FermentWatch.Service.Pipeline;
using Prometheus;

namespace FermentWatch.Service.Care;

/// <summary>Counts and conditions for a server that collects metrics. Totals are those of the database: they go on after a restart.</summary>
public sealed class ServiceMetrics : IDisposable
{
    private readonly CollectorRegistry _registry = Metrics.NewCustomRegistry();
    private readonly MetricFactory _metrics;
    private readonly Store _store;
    private readonly Histogram _commits;

    /// <summary>Registers everything; nothing is read until somebody asks.</summary>
    public ServiceMetrics(Store store, BrokerLink broker, Board board, BackupDesk backups, IServiceProvider services, TimeProvider clock)
    {
        ArgumentNullException.ThrowIfNull(store);
        _store = store;
        _metrics = Metrics.WithCustomRegistry(_registry);
        _commits = _metrics.CreateHistogram(
            "fermentwatch_commit_seconds",
            "Time of a transaction, from its begin to its return from the disk.",
            new HistogramConfiguration { Buckets = Histogram.ExponentialBuckets(0.0005, 2, 14) });
        store.Committed += Observe;
        _registry.AddBeforeCollectCallback(() => Counts(store.ReadCounts()));
        _registry.AddBeforeCollectCallback(() => Conditions(store, broker, backups, clock.GetUtcNow()));
        _registry.AddBeforeCollectCallback(() => Batches(board.State.Snapshot));
        if (services.GetService<InfluxCopier>() is { } copier)
        {
            _registry.AddBeforeCollectCallback(() => Copy(copier.Status, store.ReadChangeBacklog()));
        }
    }

    /// <summary>Writes everything in the text format that collectors read.</summary>
    public Task WriteAsync(Stream stream, CancellationToken cancellationToken) => _registry.CollectAndExportAsTextAsync(stream, cancellationToken);

    /// <inheritdoc/>
    public void Dispose() => _store.Committed -= Observe;

    private void Observe(TimeSpan took) => _commits.Observe(took.TotalSeconds);

    private void Counts(StoreCounts counts)
    {
        long Of(InboxOutcome outcome) => counts.Messages.GetValueOrDefault(outcome);
        Total("messages_received", "Messages on mapped topics.", counts.Messages.Values.Sum() + counts.Waiting);
        Total("messages_accepted", "Messages that gave at least one reading.", Of(InboxOutcome.Stored) + Of(InboxOutcome.PartlyRejected) + Of(InboxOutcome.Known));
        Total("messages_rejected", "Messages that gave none.", Of(InboxOutcome.Rejected) + Of(InboxOutcome.TooLarge));
        Total("messages_redelivered", "Redeliveries that were recognized and added nothing.", counts.Redelivered);
        Total("readings_stored", "Readings stored, corrections included.", counts.ReadingsStored);
        Total("readings_duplicate", "Readings left out, since they were there.", counts.ReadingsKnown);
        Total("readings_corrected", "Readings that corrected an earlier one.", counts.ReadingsCorrected);
        Total("clocks_repaired", "Readings whose device's clock was not trusted.", counts.ClocksRepaired);
        Level("messages_waiting", "Messages that wait to be read.", counts.Waiting);
        var rejected = _metrics.CreateCounter("fermentwatch_fields_rejected_total", "Fields of messages that could not be read, by reason.", "reason");
        foreach (var (reason, count) in counts.RejectedByReason)
        {
            rejected.WithLabels(reason).IncTo(count);
        }
    }

    private void Conditions(Store store, BrokerLink broker, BackupDesk backups, DateTimeOffset now)
    {
        Level("broker_up", "Whether messages can reach the service.", broker.IsUp ? 1 : 0);
        Level("storage_writable", "Whether the database can be written.", store.Health.Writable ? 1 : 0);
        var outbox = store.ReadOutboxState(ReceivedAt.From(now));
        Level("outbox_waiting", "Notices that wait to be delivered.", outbox.Waiting);
        Level("outbox_oldest_due_seconds", "Age of the oldest notice that is due and not delivered.", outbox.OldestDue is { } due ? (now - due.ToDateTimeOffset()).TotalSeconds : 0);
        if (backups.Age(now) is { } age)
        {
            Level("backup_age_seconds", "Age of the newest backup.", age.TotalSeconds);
        }

        if (store.ReadSeries().Select(series => series.LastReceivedAt).Max() is { } last)
        {
            Level("last_reading_age_seconds", "Time since anything of a sensor arrived.", (now - last.ToDateTimeOffset()).TotalSeconds);
        }
    }

    private void Batches(BoardSnapshot board)
    {
        var gaps = _metrics.CreateGauge("fermentwatch_gravity_gaps", "Stretches without gravity readings in a batch that is judged.", "batch");
        var listed = board.Entries.Select(entry => entry.View.Batch.Id.Value).ToHashSet(StringComparer.Ordinal);
        foreach (var gone in gaps.GetAllLabelValues().Where(labels => !listed.Contains(labels[0])))
        {
            gaps.RemoveLabelled(gone);
        }

        foreach (var entry in board.Entries)
        {
            gaps.WithLabels(entry.View.Batch.Id.Value).Set(entry.View.GravityGaps.Count);
        }

        var alerts = _metrics.CreateGauge("fermentwatch_alerts", "Alerts that stand, by severity and what was said about them.", "severity", "state");
        foreach (var severity in Enum.GetValues<Monitoring.Alerting.Severity>())
        {
            var own = board.Entries.SelectMany(entry => entry.Alerts).Where(alert => alert.Severity == severity).Select(StateOf).ToList();
            foreach (var state in (string[])["open", "acknowledged", "snoozed", "disputed"])
            {
                alerts.WithLabels(severity.ToString().ToLowerInvariant(), state).Set(own.Count(one => one == state));
            }
        }
    }

    private static string StateOf(OpenAlert alert) => alert switch
    {
        { DisputedAt: not null } => "disputed",
        { SnoozedUntil: not null } => "snoozed",
        { AcknowledgedAt: not null } => "acknowledged",
        _ => "open",
    };

    private void Copy(CopyStatus status, ChangeBacklog backlog)
    {
        Level("copy_up", "Whether the copy elsewhere could be written at the last try.", status.IsUp ? 1 : 0);
        Level("copy_waiting", "Changes that the copy elsewhere lacks.", backlog.Changes);
        Total("copy_points", "Points written to the copy since the start.", status.Points);
        Total("copy_set_aside", "Points left out of the copy since the start.", status.SetAside);
    }

    private void Total(string name, string help, long value) => _metrics.CreateCounter($"fermentwatch_{name}_total", help).IncTo(value);

    private void Level(string name, string help, double value) => _metrics.CreateGauge($"fermentwatch_{name}", help).Set(value);
}
