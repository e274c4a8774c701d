using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard.Preferences;
using FermentWatch.Service.Personal;
using FermentWatch.Service.Texts;

namespace FermentWatch.Service.Pipeline;

/// <summary>Sends what is due in the outbox. At least once: a kill between the channel's answer and our note of it sends again, under the same key.</summary>
public sealed class DeliveryLoop(
    Store store,
    IEnumerable<INotifier> notifiers,
    WishBook wishes,
    PageSettings page,
    PreferenceBook preferences,
    PipelineSignals signals,
    MonitorPace pace,
    TimeProvider clock,
    ILogger<DeliveryLoop> logger)
    : SupervisedLoop(clock, logger)
{
    private const int AtATime = 10;
    private const int NewestNotices = 500;

    // Longer than the longest attempt (three tries within the relay's limit on time).
    private static readonly TimeSpan Lease = TimeSpan.FromMinutes(5);

    private readonly Dictionary<string, INotifier> _notifiers = notifiers.ToDictionary(notifier => notifier.Channel, StringComparer.Ordinal);

    private bool _isReleased;

    private ReceivedAt Now => ReceivedAt.From(Clock.GetUtcNow());

    /// <inheritdoc/>
    protected override async Task RunAsync(CancellationToken stoppingToken)
    {
        if (!_isReleased)
        {
            await store.ReleaseClaimsAsync(Now, stoppingToken);
            _isReleased = true;
        }

        while (!stoppingToken.IsCancellationRequested)
        {
            // Reading first keeps an idle outbox from costing a write every few seconds.
            var due = store.ReadNextDue(Now) is { } next && next <= Now
                ? await store.ClaimDueAsync(Now, Lease, AtATime, stoppingToken)
                : [];
            foreach (var row in due)
            {
                await SendAsync(row, stoppingToken);
            }

            if (due.Count == 0)
            {
                await signals.Outbox.WaitAsync(pace.Shortest, stoppingToken);
            }
        }
    }

    private async Task SendAsync(OutboxRow row, CancellationToken stoppingToken)
    {
        if ((_notifiers.GetValueOrDefault(row.Channel) ?? wishes.Find(row.Channel)) is not { } notifier)
        {
            await store.MarkFailedAsync(row.Key, Now, null, "channel-not-set-up", stoppingToken);
            return;
        }

        var draft = AlertJson.ReadDraft(row.Body);
        var link = draft.IsOfSeveralBatches
            ? NoticeLink.ToAlerts(preferences.Present.BaseUrl, page.Address.IsLoopback)
            : NoticeLink.To(draft.Batch, preferences.Present.BaseUrl, page.Address.IsLoopback);
        var message = NoticeText.Write(draft, preferences.Reader, Now, link);
        var result = await notifier.DeliverAsync(message, stoppingToken);
        switch (result)
        {
            case DeliveryResult.Delivered:
                await store.MarkSentAsync(row.Key, Now, stoppingToken);
                Logger.LogInformation("Notice {Key} delivered by {Channel}", row.Key, row.Channel);
                break;
            case DeliveryResult.TryAgain again:
                await PutOffAsync(row, again, again.Because, stoppingToken);
                break;
            case DeliveryResult.Refused refused:
                await PutOffAsync(row, refused, refused.Because, stoppingToken);
                break;
        }
    }

    private async Task PutOffAsync(OutboxRow row, DeliveryResult result, Reason because, CancellationToken stoppingToken)
    {
        var next = DeliverySchedule.Next(row.Attempts, row.CreatedAt, Now, result);
        if (SecondWay.Find(row, next is null, Now, _notifiers.Keys, wishes.Listeners(), store.ReadOutbox(NewestNotices)) is { } other)
        {
            // Before the failure is noted: a kill between the two finds the same way again, under the same key.
            await store.QueueAsync(other, row.Batch, Now, stoppingToken);
        }

        await store.MarkFailedAsync(row.Key, Now, next, because.Code, stoppingToken);
        Logger.LogWarning(
            "Notice {Key} not delivered by {Channel} ({Reason}); {Next}",
            row.Key,
            row.Channel,
            because.Code,
            next is { } at ? "next attempt " + at : "given up");
    }
}
