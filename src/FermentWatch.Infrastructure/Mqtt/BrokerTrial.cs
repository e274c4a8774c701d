using System.Buffers;
using System.Text;
using FermentWatch.Monitoring.Telemetry;
using MQTTnet.Formatter;
using MQTTnet.Packets;
using MQTTnet.Protocol;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>What a trial of a broker came to.</summary>
/// <param name="Problem">Why the broker cannot be used as described: a code of <see cref="BrokerProblems"/>; null when it can.</param>
/// <param name="Heard">Messages of others that came while it was listened to; the first one ends the trial.</param>
/// <param name="Listened">How long was listened.</param>
public sealed record BrokerTrialResult(Reason? Problem, int Heard, TimeSpan Listened);

/// <summary>
/// Tries a broker before it is used, with everything that the kept connection will need: the way there, the greeting, a subscription,
/// and a message to ourselves that must come back. Under a client id of its own and with a clean session: the kept one is not disturbed.
/// </summary>
public sealed class BrokerTrial
{
    private const ushort SubscribePacketId = 1;
    private const ushort EchoPacketId = 2;

    private readonly BrokerWire _wire;
    private readonly TimeProvider _time;
    private readonly string _echoTopic;
    private readonly byte[] _echo = Encoding.ASCII.GetBytes(Guid.NewGuid().ToString("N"));
    private List<MqttSubscribeReasonCode>? _granted;
    private MqttPubAckReasonCode? _taken;
    private bool _echoed;
    private int _heard;

    private BrokerTrial(BrokerWire wire, string echoTopic, TimeProvider time) => (_wire, _echoTopic, _time) = (wire, echoTopic, time);

    /// <summary>Tries it. Takes at most a few steps of <see cref="ExternalBrokerOptions.StepTimeout"/>, and then <paramref name="listening"/>.</summary>
    /// <param name="options">How to reach it, under a client id that nobody else uses.</param>
    /// <param name="keptClientId">Client id of the connection that is to be kept: its echo topic must be open to us.</param>
    /// <param name="filter">What to listen to, such as <c>#</c>.</param>
    /// <param name="listening">How long to wait for a message of somebody else.</param>
    /// <param name="time">Clock for the waits.</param>
    /// <param name="stop">Gives up.</param>
    public static async Task<BrokerTrialResult> RunAsync(
        ExternalBrokerOptions options, string keptClientId, string filter, TimeSpan listening, TimeProvider time, CancellationToken stop)
    {
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(time);
        options = options with { CleanSession = true };
        MqttProtocolVersion[] versions = options.Version switch
        {
            MqttVersionChoice.Version311 => [MqttProtocolVersion.V311],
            MqttVersionChoice.Version5 => [MqttProtocolVersion.V500],
            _ => [MqttProtocolVersion.V500, MqttProtocolVersion.V311],
        };
        BrokerFailureException? last = null;
        foreach (var version in versions)
        {
            try
            {
                using var wire = await BrokerWire.OpenAsync(options, version, time, stop);
                return await new BrokerTrial(wire, TopicInterest.EchoOf(keptClientId), time).TryAsync(options, filter, listening, stop);
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

        return new BrokerTrialResult(last!.Reason, 0, TimeSpan.Zero);
    }

    private async Task<BrokerTrialResult> TryAsync(ExternalBrokerOptions options, string filter, TimeSpan listening, CancellationToken stop)
    {
        string[] filters = [filter, _echoTopic];
        await _wire.SendAsync(
            new MqttSubscribePacket
            {
                PacketIdentifier = SubscribePacketId,
                TopicFilters = [.. filters.Select(one => new MqttTopicFilter { Topic = one, QualityOfServiceLevel = MqttQualityOfServiceLevel.AtMostOnce })],
            },
            stop);
        if (!await UntilAsync(() => _granted is not null, options.StepTimeout, options, stop))
        {
            throw BrokerFailureException.Silent(options.StepTimeout);
        }

        for (var i = 0; i < filters.Length; i++)
        {
            if (i >= _granted!.Count || _granted[i] >= MqttSubscribeReasonCode.UnspecifiedError)
            {
                throw BrokerFailureException.Refused(BrokerProblems.SubscriptionRefused, null, filters[i], i < _granted.Count ? _granted[i].ToString() : "no answer");
            }
        }

        await _wire.SendAsync(
            new MqttPublishPacket
            {
                Topic = _echoTopic,
                PacketIdentifier = EchoPacketId,
                QualityOfServiceLevel = MqttQualityOfServiceLevel.AtLeastOnce,
                Payload = new ReadOnlySequence<byte>(_echo),
            },
            stop);
        var came = await UntilAsync(() => (_echoed && _taken is not null) || _taken >= MqttPubAckReasonCode.UnspecifiedError, options.StepTimeout, options, stop);
        if (_taken >= MqttPubAckReasonCode.UnspecifiedError)
        {
            throw BrokerFailureException.Refused(BrokerProblems.PublishRefused, null, _echoTopic, _taken.ToString()!);
        }

        if (!came)
        {
            throw BrokerFailureException.Refused(BrokerProblems.NothingPassedOn, null, _echoTopic);
        }

        var began = _time.GetTimestamp();
        if (await UntilAsync(() => _heard > 0, listening, options, stop))
        {
            await _wire.SendAsync(new MqttDisconnectPacket { ReasonCode = MqttDisconnectReasonCode.NormalDisconnection }, stop);
        }

        return new BrokerTrialResult(null, _heard, _time.GetElapsedTime(began));
    }

    /// <summary>False when the time was up. The connection cannot be used after that.</summary>
    private async Task<bool> UntilAsync(Func<bool> isDone, TimeSpan patience, ExternalBrokerOptions options, CancellationToken stop)
    {
        using var limit = new CancellationTokenSource(patience, _time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(limit.Token, stop);
        try
        {
            while (!isDone())
            {
                Take(await _wire.ReceiveAsync(either.Token), options);
            }

            return true;
        }
        catch (Exception cause) when (limit.IsCancellationRequested && !stop.IsCancellationRequested && (cause is OperationCanceledException or BrokerFailureException))
        {
            return false;
        }
    }

    private void Take(MqttPacket packet, ExternalBrokerOptions options)
    {
        switch (packet)
        {
            case MqttSubAckPacket granted:
                _granted = granted.ReasonCodes;
                break;
            case MqttPubAckPacket taken:
                _taken = taken.ReasonCode;
                break;
            case MqttPublishPacket publish when publish.Topic == _echoTopic:
                _echoed |= publish.Payload.ToArray().AsSpan().SequenceEqual(_echo);
                break;
            case MqttPublishPacket publish when !TopicInterest.IsOwn(publish.Topic):
                _heard++;
                break;
            case MqttDisconnectPacket goodbye:
                throw ConnectFailure.OfGoodbye(goodbye, options);
        }
    }
}
