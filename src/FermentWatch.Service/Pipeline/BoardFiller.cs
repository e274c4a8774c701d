using System.Text;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard;

namespace FermentWatch.Service.Pipeline;

/// <summary>Puts what the monitor saw and how the service is on the board that the pages read.</summary>
public sealed class BoardFiller(Board board, Store store, BrokerLink broker, ServiceIdentity identity, ServiceStanding standing, TimeProvider clock)
{
    private const int RefusedShown = 50;

    /// <summary>Replaces the board.</summary>
    public void Publish(IReadOnlyList<WatchedBatch> batches)
    {
        var entries = batches.Select(batch => new BoardEntry(batch.View, ValueList.Of(batch.Alerts.Alerts.Where(IsOpen).Select(Open))));
        board.Publish(new BoardSnapshot(ValueList.Of(entries), Status(), identity.IsDemo, clock.GetUtcNow()));
    }

    private ServiceStatus Status()
    {
        var counts = store.ReadCounts();
        long Of(InboxOutcome outcome) => counts.Messages.GetValueOrDefault(outcome);
        var refused = store.ReadRefused(RefusedShown);
        var lastTopic = store.ReadTopics().Select(topic => (ReceivedAt?)topic.LastReceivedAt).Max();
        var last = broker.LastMessageAt is { } now && (lastTopic is not { } before || now > before) ? now : lastTopic;
        return new ServiceStatus(
            broker.State,
            broker.IsUp,
            last?.ToDateTimeOffset(),
            new MessageCounts(
                counts.Messages.Values.Sum() + counts.Waiting,
                Of(InboxOutcome.Stored) + Of(InboxOutcome.PartlyRejected),
                Of(InboxOutcome.Rejected) + Of(InboxOutcome.TooLarge),
                counts.Redelivered),
            ValueList.Of(refused.SelectMany(Rejected)))
        {
            Alerts = ValueList.Of(standing.Open),
        };
    }

    private static IEnumerable<RejectedMessage> Rejected(RefusedMessage message)
    {
        var reasons = message.Rejections.Count > 0
            ? message.Rejections.Select(rejection => rejection.Because).Distinct()
            : [Reason.Of("payload-too-long", new ReasonValue.Count(message.Size), new ReasonValue.Count(PayloadDecoder.LongestPayload))];
        var text = Encoding.UTF8.GetString(message.FirstBytes.Span);
        return reasons.Select(reason => new RejectedMessage(message.Topic, text, message.Size, message.ReceivedAt.ToDateTimeOffset(), reason));
    }

    private static bool IsOpen(TrackedAlert alert) => alert.Standing == AlertStanding.Raised;

    private static OpenAlert Open(TrackedAlert alert) =>
        new(alert.Rule, alert.Subject, alert.Severity, alert.RaisedAt.ToDateTimeOffset(), alert.Because)
        {
            Key = alert.Key,
            AcknowledgedAt = alert.AcknowledgedAt?.ToDateTimeOffset(),
            SnoozedUntil = alert.Snooze?.Until.ToDateTimeOffset(),
            DisputedAt = alert.DisputedAt?.ToDateTimeOffset(),
            Held = alert.Held,
        };
}

/// <summary>What kind of service this is.</summary>
/// <param name="IsDemo">Whether the data is of the invented cellar.</param>
/// <param name="Speed">Seconds of the service's clock in a real second: 1, or more in the demo.</param>
public sealed record ServiceIdentity(bool IsDemo, double Speed = 1);
