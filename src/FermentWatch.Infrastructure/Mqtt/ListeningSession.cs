using System.Diagnostics.CodeAnalysis;
using FermentWatch.Monitoring.Telemetry;
using Microsoft.Extensions.Logging;
using MQTTnet.Formatter;
using MQTTnet.Packets;
using MQTTnet.Protocol;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>
/// Listens to what an external broker carries, beside the session that is kept: clean, at quality of service 0, nothing recorded.
/// The broker keeps nothing for it, and forgets it when it leaves.
/// </summary>
/// <param name="options">How to reach the broker, with a client id of its own and <see cref="ExternalBrokerOptions.CleanSession"/>.</param>
/// <param name="filter">What to listen to, such as <c>#</c>.</param>
/// <param name="isMapped">True for topics that are recorded already: they are passed over.</param>
/// <param name="time">Clock for arrival times and waits.</param>
/// <param name="logger">Log.</param>
public sealed class ListeningSession(ExternalBrokerOptions options, string filter, Func<string, bool> isMapped, TimeProvider time, ILogger logger)
{
    private const ushort SubscribePacketId = 1;

    private volatile Reason? _problem;
    private volatile bool _isListening;

    /// <summary>What was heard.</summary>
    public UnmappedTopics Heard { get; } = new();

    /// <summary>Why nothing can be heard; null while all is well.</summary>
    public Reason? Problem => _problem;

    /// <summary>Whether the broker has granted the subscription.</summary>
    public bool IsListening => _isListening;

    /// <summary>Listens, and connects again after a fault, until cancelled. Never throws.</summary>
    [SuppressMessage("Design", "CA1031", Justification = "The edge: whatever went wrong in one connection, the next one is tried.")]
    public async Task RunAsync(CancellationToken stop)
    {
        var version = options.Version == MqttVersionChoice.Version311 ? MqttProtocolVersion.V311 : MqttProtocolVersion.V500;
        while (!stop.IsCancellationRequested)
        {
            try
            {
                await ListenAsync(version, stop);
            }
            catch (BrokerFailureException failure)
            {
                _problem = failure.Reason;
                if (failure.MayBeVersion && options.Version == MqttVersionChoice.Automatic)
                {
                    version = version == MqttProtocolVersion.V500 ? MqttProtocolVersion.V311 : MqttProtocolVersion.V500;
                }
            }
            catch (OperationCanceledException) when (stop.IsCancellationRequested)
            {
                break;
            }
            catch (Exception unexpected)
            {
                logger.LogWarning(unexpected, "Listening beside the kept session ended unexpectedly");
                _problem = Reason.Of(BrokerProblems.Unexpected, new ReasonValue.Name(unexpected.GetType().Name));
            }

            _isListening = false;
            await Task.Delay(options.ShortestWait, time, stop).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        }

        _isListening = false;
    }

    private async Task ListenAsync(MqttProtocolVersion version, CancellationToken stop)
    {
        using var wire = await BrokerWire.OpenAsync(options, version, time, stop);
        await wire.SendAsync(
            new MqttSubscribePacket
            {
                PacketIdentifier = SubscribePacketId,
                TopicFilters = [new MqttTopicFilter { Topic = filter, QualityOfServiceLevel = MqttQualityOfServiceLevel.AtMostOnce }],
            },
            stop);
        using var end = CancellationTokenSource.CreateLinkedTokenSource(stop);
        var pinging = PingAsync(wire, end.Token);
        try
        {
            while (true)
            {
                Take(await wire.ReceiveAsync(stop));
            }
        }
        catch (OperationCanceledException) when (stop.IsCancellationRequested)
        {
            await wire.SendAsync(new MqttDisconnectPacket { ReasonCode = MqttDisconnectReasonCode.NormalDisconnection }, CancellationToken.None);
            throw;
        }
        finally
        {
            await end.CancelAsync();
            await pinging.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        }
    }

    private void Take(MqttPacket packet)
    {
        switch (packet)
        {
            case MqttSubAckPacket { ReasonCodes: [>= MqttSubscribeReasonCode.UnspecifiedError and var refused, ..] }:
                throw BrokerFailureException.Refused(BrokerProblems.SubscriptionRefused, null, filter, refused.ToString());
            case MqttSubAckPacket:
                _problem = null;
                _isListening = true;
                break;
            case MqttPublishPacket publish when !TopicInterest.IsOwn(publish.Topic) && !isMapped(publish.Topic):
                Heard.Note(publish.Topic, publish.Payload, ReceivedAt.From(time.GetUtcNow()), publish.Retain);
                break;
            case MqttDisconnectPacket goodbye:
                throw ConnectFailure.OfGoodbye(goodbye, options);
        }
    }

    private async Task PingAsync(BrokerWire wire, CancellationToken end)
    {
        while (true)
        {
            await Task.Delay(options.KeepAlive, time, end);
            await wire.SendAsync(MqttPingReqPacket.Instance, end);
        }
    }
}
