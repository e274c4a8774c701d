using System.Buffers;
using FermentWatch.Monitoring.Telemetry;
using MQTTnet.Formatter;
using MQTTnet.Packets;
using MQTTnet.Protocol;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>A short visit at an external broker to leave states there: beside the kept connection, which is for listening alone.</summary>
public static class StateVisit
{
    /// <summary>Connects, leaves the messages retained, waits until each is acknowledged, says goodbye.</summary>
    /// <param name="options">How to reach the broker, under a client id that nobody else uses.</param>
    /// <param name="messages">What to leave; at most 1,000.</param>
    /// <param name="time">Clock for the waits.</param>
    /// <param name="stop">Gives up.</param>
    /// <returns>Null when all were acknowledged, else why not; leaving them again does no harm.</returns>
    public static async Task<Reason?> LeaveAsync(ExternalBrokerOptions options, IReadOnlyList<StateMessage> messages, TimeProvider time, CancellationToken stop)
    {
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(messages);
        var own = options with { CleanSession = true };
        MqttProtocolVersion[] versions = options.Version switch
        {
            MqttVersionChoice.Version311 => [MqttProtocolVersion.V311],
            MqttVersionChoice.Version5 => [MqttProtocolVersion.V500],
            _ => [MqttProtocolVersion.V500, MqttProtocolVersion.V311],
        };
        foreach (var version in versions)
        {
            try
            {
                await LeaveAsync(version, own, messages, time, stop);
                return null;
            }
            catch (BrokerFailureException failure) when (failure.MayBeVersion && version != versions[^1])
            {
                // A broker that knows the older version alone.
            }
            catch (BrokerFailureException failure)
            {
                return failure.Reason;
            }
        }

        return null;
    }

    private static async Task LeaveAsync(MqttProtocolVersion version, ExternalBrokerOptions options, IReadOnlyList<StateMessage> messages, TimeProvider time, CancellationToken stop)
    {
        using var wire = await BrokerWire.OpenAsync(options, version, time, stop);
        using var limit = new CancellationTokenSource(options.StepTimeout, time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(limit.Token, stop);
        try
        {
            // One after the other: no broker's limit on what may be in flight is ever met.
            for (var at = 0; at < messages.Count; at++)
            {
                var id = (ushort)(at + 1);
                await wire.SendAsync(
                    new MqttPublishPacket
                    {
                        PacketIdentifier = id,
                        Topic = messages[at].Topic,
                        Payload = new ReadOnlySequence<byte>(messages[at].Payload),
                        QualityOfServiceLevel = MqttQualityOfServiceLevel.AtLeastOnce,
                        Retain = true,
                    },
                    either.Token);
                while (await wire.ReceiveAsync(either.Token) is not MqttPubAckPacket answer || answer.PacketIdentifier != id)
                {
                    // Whatever else the broker says is not for us.
                }
            }

            await wire.SendAsync(new MqttDisconnectPacket(), either.Token);
        }
        catch (OperationCanceledException) when (limit.IsCancellationRequested && !stop.IsCancellationRequested)
        {
            throw BrokerFailureException.Silent(options.StepTimeout);
        }
    }
}
