using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>
/// Publishes notices at the broker from which readings come, so that other programs of the house can act on them:
/// each on <c>fermentwatch/notices/all</c>, and the newest of each batch, retained, on <c>fermentwatch/notices/batch/BATCH</c>.
/// </summary>
/// <remarks>The payload is that of a webhook without what can be said: whoever may subscribe would get the links of the buttons.</remarks>
/// <param name="broker">How to reach the broker now; null while it is not up.</param>
/// <param name="time">Clock for the waits.</param>
public sealed class MqttNotifier(Func<ExternalBrokerOptions?> broker, TimeProvider time) : INotifier
{
    /// <summary>Name of the channel.</summary>
    public const string Name = "mqtt";

    /// <summary>Topic of every notice.</summary>
    public const string AllTopic = TopicInterest.NoticeRoot + "/all";

    /// <inheritdoc/>
    public string Channel => Name;

    /// <summary>Topic of a batch's newest notice: the first level of the notice's key, without what MQTT gives a meaning.</summary>
    public static string BatchTopic(string key)
    {
        ArgumentNullException.ThrowIfNull(key);
        var batch = string.Concat(key.Split('/')[0].Select(letter => letter is '+' or '#' || char.IsControl(letter) ? '-' : letter));
        return $"{TopicInterest.NoticeRoot}/batch/{(batch.Length == 0 ? "-" : batch)}";
    }

    /// <inheritdoc/>
    public async Task<DeliveryResult> DeliverAsync(NoticeMessage message, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(message);
        if (broker() is not { } options)
        {
            return new DeliveryResult.TryAgain(Reason.Of("mqtt-down"), NotBefore: null);
        }

        var payload = WebhookNotifier.Body(message with { Acts = ValueList.Of<NoticeAct>() });
        var result = await BrokerPost.PublishAsync(options, [new(AllTopic, payload, Retain: false), new(BatchTopic(message.Key), payload, Retain: true)], time, cancellationToken);
        return result switch
        {
            { Problem: { } problem } => new DeliveryResult.TryAgain(Reason.Of(problem.Code == BrokerProblems.PublishRefused ? "mqtt-refused" : "mqtt-failing"), NotBefore: null),
            { NobodyListens: true } => new DeliveryResult.Delivered(Reason.Of("mqtt-nobody")),
            _ => new DeliveryResult.Delivered(),
        };
    }
}
