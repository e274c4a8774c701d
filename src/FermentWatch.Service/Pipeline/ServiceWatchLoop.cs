using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Services;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Care;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.Personal;
using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Pipeline;

/// <summary>Where the data lies.</summary>
public sealed record WatchedDirectory(string Path);

/// <summary>Looks at the service itself: broker, storage, backup, channels. What can't be queued because nothing can be written is sent at once.</summary>
public sealed class ServiceWatchLoop(
    Store store,
    BrokerLink broker,
    WatchedDirectory directory,
    BackupDesk backups,
    ServiceStanding standing,
    IEnumerable<INotifier> notifiers,
    WishBook wishes,
    AlertSettings alerts,
    PageSettings page,
    PreferenceBook preferences,
    PipelineSignals signals,
    TimeProvider clock,
    ILogger<ServiceWatchLoop> logger)
    : SupervisedLoop(clock, logger)
{
    private const int OutboxLookedAt = 200;

    private static readonly TimeSpan Interval = TimeSpan.FromSeconds(20);

    private readonly HashSet<string> _sentAtOnce = new(StringComparer.Ordinal);
    private ServiceSet? _set;
    private long? _lastPass;

    /// <inheritdoc/>
    protected override async Task RunAsync(CancellationToken stoppingToken)
    {
        while (!stoppingToken.IsCancellationRequested)
        {
            await PassAsync(stoppingToken);
            await Task.Delay(Interval, Clock, stoppingToken);
        }
    }

    private async Task PassAsync(CancellationToken stoppingToken)
    {
        using var hold = await standing.HoldAsync(stoppingToken);
        _set ??= Stored();
        if (standing.TakeActs())
        {
            _set = _set.WithActsOf(Stored());
        }

        var ticks = Clock.GetTimestamp();
        var ran = _lastPass is { } last ? Clock.GetElapsedTime(last, ticks) : TimeSpan.Zero;
        _lastPass = ticks;
        var pass = new Pass(ReceivedAt.From(Clock.GetUtcNow()), ran, preferences.Present.Zone);
        var settings = alerts with { QuietHours = preferences.Present.QuietHours, Personal = wishes.Listeners() };
        var facts = ServiceReading.Of(store, broker, backups, directory.Path, settings, OutboxLookedAt);
        var step = ServiceAlerts.Step(_set, facts, new ServiceLimits { OldestBackup = backups.Settings.OldAfter }, settings, pass);
        _set = step.Now;
        if (standing.Take(step.Now))
        {
            signals.Facts.Set();
        }

        if (!step.MustStore)
        {
            return;
        }

        try
        {
            var rows = step.Drafts.Select(draft => new OutboxEntry(draft.Key, draft.Channel, AlertJson.Write(draft), draft.NextAttemptAt)).ToList();
            await store.CommitPassAsync(new PassResult(null, 0, pass.Now, ServiceSet.Write(step.Now), rows, null) { Overtaken = step.Canceled }, stoppingToken);
            signals.Outbox.Set();
        }
        catch (StorageUnavailableException)
        {
            await SendAtOnceAsync(step.Drafts, pass.Now, stoppingToken);
        }
    }

    private ServiceSet Stored() => store.ReadAlertSet(null) is { } json ? ServiceSet.Read(json) : ServiceSet.Empty;

    private async Task SendAtOnceAsync(IEnumerable<OutboxDraft> drafts, ReceivedAt now, CancellationToken stoppingToken)
    {
        foreach (var draft in drafts.Where(draft => !draft.Silent && _sentAtOnce.Add(draft.Key)))
        {
            var notifier = notifiers.FirstOrDefault(one => one.Channel == draft.Channel) ?? wishes.Find(draft.Channel);
            if (notifier is not null)
            {
                var link = NoticeLink.To(draft.Batch, preferences.Present.BaseUrl, page.Address.IsLoopback);
                var result = await notifier.DeliverAsync(NoticeText.Write(draft, preferences.ReaderOf(wishes.OwnOf(draft.Channel)), now, link), stoppingToken);
                Logger.LogWarning("Notice {Key} sent past the store by {Channel}: {Result}", draft.Key, draft.Channel, result.GetType().Name);
            }
        }
    }
}
