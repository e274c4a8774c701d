using System.Buffers;
using FermentWatch.Monitoring.Telemetry;
using MQTTnet.Formatter;
using MQTTnet.Packets;
using MQTTnet.Protocol;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>A message to publish.</summary>
/// <param name="Topic">Full topic.</param>
/// <param name="Payload">Its bytes.</param>
/// <param name="Retain">Whether the broker keeps it for who subscribes later.</param>
public sealed record PostedMessage(string Topic, byte[] Payload, bool Retain);

/// <summary>What became of messages that were published.</summary>
/// <param name="Problem">Why the broker did not take them: a code of <see cref="BrokerProblems"/>; null when it did.</param>
/// <param name="NobodyListens">True when the broker says that nobody subscribed to any of them; only MQTT 5 says so.</param>
public sealed record PostResult(Reason? Problem, bool NobodyListens);

/// <summary>Publishes a few messages over a connection of its own, beside the one that is kept, each acknowledged by the broker (QoS 1).</summary>
public static class BrokerPost
{
    /// <summary>Publishes. Takes at most a few steps of <see cref="ExternalBrokerOptions.StepTimeout"/>.</summary>
    /// <param name="options">How to reach the broker, under a client id that nobody else uses.</param>
    /// <param name="messages">What to publish.</param>
    /// <param name="time">Clock for the waits.</param>
    /// <param name="stop">Gives up.</param>
    public static async Task<PostResult> PublishAsync(ExternalBrokerOptions options, IReadOnlyList<PostedMessage> messages, TimeProvider time, CancellationToken stop)
    {
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(messages);
        options = options with { CleanSession = true };
        BrokerFailureException? last = null;
        foreach (var version in (MqttProtocolVersion[])[MqttProtocolVersion.V500, MqttProtocolVersion.V311])
        {
            try
            {
                using var wire = await BrokerWire.OpenAsync(options, version, time, stop);
                return await SendAsync(wire, options, messages, time, stop);
            }
            catch (BrokerFailureException failure)
            {
                last = failure;
                if (!failure.MayBeVersion)
                {
                    break;
                }
            }
        }

        return new PostResult(last!.Reason, NobodyListens: false);
    }

    private static async Task<PostResult> SendAsync(BrokerWire wire, ExternalBrokerOptions options, IReadOnlyList<PostedMessage> messages, TimeProvider time, CancellationToken stop)
    {
        var nobody = true;
        for (var i = 0; i < messages.Count; i++)
        {
            var packet = new MqttPublishPacket
            {
                Topic = messages[i].Topic,
                PacketIdentifier = (ushort)(i + 1),
                QualityOfServiceLevel = MqttQualityOfServiceLevel.AtLeastOnce,
                Retain = messages[i].Retain,
                Payload = new ReadOnlySequence<byte>(messages[i].Payload),
            };
            await wire.SendAsync(packet, stop);
            var answer = await AnswerAsync(wire, packet.PacketIdentifier, options, time, stop);
            if (answer >= MqttPubAckReasonCode.UnspecifiedError)
            {
                throw BrokerFailureException.Refused(BrokerProblems.PublishRefused, null, messages[i].Topic, answer.ToString());
            }

            nobody &= answer is MqttPubAckReasonCode.NoMatchingSubscribers;
        }

        await wire.SendAsync(new MqttDisconnectPacket { ReasonCode = MqttDisconnectReasonCode.NormalDisconnection }, stop);
        return new PostResult(null, nobody);
    }

    private static async Task<MqttPubAckReasonCode> AnswerAsync(BrokerWire wire, ushort packetId, ExternalBrokerOptions options, TimeProvider time, CancellationToken stop)
    {
        using var limit = new CancellationTokenSource(options.StepTimeout, time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(limit.Token, stop);
        try
        {
            while (true)
            {
                switch (await wire.ReceiveAsync(either.Token))
                {
                    case MqttPubAckPacket taken when taken.PacketIdentifier == packetId:
                        return taken.ReasonCode;
                    case MqttDisconnectPacket goodbye:
                        throw ConnectFailure.OfGoodbye(goodbye, options);
                }
            }
        }
        catch (Exception cause) when (limit.IsCancellationRequested && !stop.IsCancellationRequested && (cause is OperationCanceledException or BrokerFailureException))
        {
            throw BrokerFailureException.Silent(options.StepTimeout);
        }
    }
}
