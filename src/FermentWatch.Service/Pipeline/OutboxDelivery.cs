using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Personal;

namespace FermentWatch.Service.Pipeline;

/// <summary>Sends what is due in the outbox, once through, and notes what became of it.</summary>
public sealed class OutboxDelivery(Store store, IEnumerable<INotifier> notifiers, WishBook wishes, NoticeDesk desk, TimeProvider clock, ILogger<OutboxDelivery> logger)
{
    private const int AtATime = 10;
    private const int NewestNotices = 500;

    // Longer than the longest attempt (three tries within a channel's limit on time).
    private static readonly TimeSpan Lease = TimeSpan.FromMinutes(5);

    private readonly Dictionary<string, INotifier> _notifiers = notifiers.ToDictionary(notifier => notifier.Channel, StringComparer.Ordinal);

    private ReceivedAt Now => ReceivedAt.From(clock.GetUtcNow());

    /// <summary>Makes due again what an earlier run had claimed and not finished; for the start of a run.</summary>
    public Task ReleaseAsync(CancellationToken cancellationToken) => store.ReleaseClaimsAsync(Now, cancellationToken);

    /// <summary>Attempts what is due now, up to ten notices.</summary>
    /// <returns>How many were attempted.</returns>
    /// <exception cref="OperationCanceledException">The caller gave up: what was not finished is due again after its lease.</exception>
    public async Task<int> SendDueAsync(CancellationToken cancellationToken)
    {
        // Reading first keeps an idle outbox from costing a write every few seconds.
        var due = store.ReadNextDue(Now) is { } next && next <= Now
            ? await store.ClaimDueAsync(Now, Lease, AtATime, cancellationToken)
            : [];
        foreach (var row in due)
        {
            await SendAsync(row, cancellationToken);
        }

        return due.Count;
    }

    private async Task SendAsync(OutboxRow row, CancellationToken cancellationToken)
    {
        if ((_notifiers.GetValueOrDefault(row.Channel) ?? wishes.Find(row.Channel)) is not { } notifier)
        {
            await store.MarkFailedAsync(row.Key, Now, null, "channel-not-set-up", cancellationToken);
            return;
        }

        var message = desk.Write(AlertJson.ReadDraft(row.Body), Now, wishes.OwnOf(row.Channel));
        switch (await notifier.DeliverAsync(message, cancellationToken))
        {
            case DeliveryResult.TryAgain again:
                await PutOffAsync(row, again, again.Because, cancellationToken);
                break;
            case DeliveryResult.Refused refused:
                await PutOffAsync(row, refused, refused.Because, cancellationToken);
                break;
            default:
                await store.MarkSentAsync(row.Key, Now, cancellationToken);
                logger.LogInformation("Notice {Key} delivered by {Channel}", row.Key, row.Channel);
                break;
        }
    }

    private async Task PutOffAsync(OutboxRow row, DeliveryResult result, Reason because, CancellationToken cancellationToken)
    {
        var next = DeliverySchedule.Next(row.Attempts, row.CreatedAt, Now, result);
        if (SecondWay.Find(row, next is null, Now, _notifiers.Keys, wishes.Listeners(), store.ReadOutbox(NewestNotices)) is { } other)
        {
            // Before the failure is noted: a kill between the two finds the same way again, under the same key.
            await store.QueueAsync(other, row.Batch, Now, cancellationToken);
        }

        await store.MarkFailedAsync(row.Key, Now, next, because.Code, cancellationToken);
        logger.LogWarning(
            "Notice {Key} not delivered by {Channel} ({Reason}); {Next}",
            row.Key,
            row.Channel,
            because.Code,
            next is { } at ? "next attempt " + at : "given up");
    }
}
