using System.Buffers;
using System.Text;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using Microsoft.Extensions.Logging;
using MQTTnet.Formatter;
using MQTTnet.Packets;
using MQTTnet.Protocol;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>One connection to an external broker, from the greeting to its end.</summary>
internal sealed class BrokerConnection : IAsyncDisposable
{
    private const ushort SubscribePacketId = 1;
    private const ushort EchoPacketId = 2;
    private const ushort UnsubscribePacketId = 3;

    // A broker that lags far behind answers late; the goodbye must fit into the time that the host gives us to stop.
    private static readonly TimeSpan LongestGoodbye = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan LastWords = TimeSpan.FromMilliseconds(500);

    private readonly ExternalBrokerOptions _options;
    private readonly TopicInterest _interest;
    private readonly ConfirmAcknowledged _confirm;
    private readonly TimeProvider _time;
    private readonly ILogger _logger;
    private readonly StatusBoard _board;
    private readonly UnmappedTopics _unmapped;
    private readonly AcknowledgementWindow _window;
    private readonly BrokerWire _link;
    private readonly string _session;
    private readonly string _echoTopic;
    private readonly byte[] _echoPayload = Encoding.ASCII.GetBytes(Guid.NewGuid().ToString("N"));
    private volatile TaskCompletionSource<MqttSubAckPacket> _subscribed = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly TaskCompletionSource _echoed = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private volatile TaskCompletionSource _answered = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private volatile bool _waitingForStore;
    private volatile bool _leaving;
    private IReadOnlyList<string> _subscribedTo = [];
    private long _lastHeard;
    private long _confirmed;

    private BrokerConnection(
        BrokerWire link, ExternalBrokerOptions options, TopicInterest interest, RecordMessage record, ConfirmAcknowledged confirm,
        TimeProvider time, ILogger logger, StatusBoard board, UnmappedTopics unmapped)
    {
        _link = link;
        _options = options;
        _interest = interest;
        _confirm = confirm;
        _time = time;
        _logger = logger;
        _board = board;
        _unmapped = unmapped;
        _session = $"external/{options.ClientId}";
        _echoTopic = TopicInterest.EchoOf(options.ClientId);
        _lastHeard = time.GetTimestamp();
        _window = new AcknowledgementWindow(options.ReceiveMaximum, record, time, message => board.Recorded(message.ReceivedAt), OnStorageFailure);
    }

    /// <summary>Connects and serves until the connection ends or <paramref name="stop"/> is cancelled.</summary>
    /// <exception cref="BrokerFailureException">The connection did not come about or ended, with the cause.</exception>
    public static async Task RunAsync(
        MqttProtocolVersion version, ExternalBrokerOptions options, TopicInterest interest, RecordMessage record, ConfirmAcknowledged confirm,
        TimeProvider time, ILogger logger, StatusBoard board, UnmappedTopics unmapped, CancellationToken stop)
    {
        using var link = await BrokerWire.OpenAsync(options, version, time, stop);
        board.Greeted(version == MqttProtocolVersion.V500 ? "5" : "3.1.1", link.Answer.IsSessionPresent);
        await using var connection = new BrokerConnection(link, options, interest, record, confirm, time, logger, board, unmapped);
        try
        {
            await connection.ServeAsync(stop);
        }
        catch (BrokerFailureException failure)
        {
            failure.AfterGreeting = true;
            throw;
        }
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => _window.DisposeAsync();

    private async Task ServeAsync(CancellationToken stop)
    {
        using var end = new CancellationTokenSource();
        var reading = ReadAsync(end.Token);
        var acknowledging = _window.AcknowledgeAsync(AcknowledgeAsync, end.Token);
        var tending = TendAsync(stop, end.Token);
        try
        {
            await EndOfAsync(await Task.WhenAny(reading, acknowledging, tending), reading);
            await LeaveAsync(acknowledging, end.Token);
        }
        finally
        {
            await end.CancelAsync();
            await Task.WhenAll(reading, acknowledging, tending).ContinueWith(_ => { }, CancellationToken.None, TaskContinuationOptions.None, TaskScheduler.Default);
        }
    }

    /// <summary>Passes on why the first task ended. When sending failed, the broker's own word on it may still be on its way to the reader.</summary>
    private async Task EndOfAsync(Task first, Task reading)
    {
        try
        {
            await first;
        }
        catch (BrokerFailureException failure) when (failure.Reason.Code == BrokerProblems.ConnectionLost && first != reading)
        {
            await Task.WhenAny(reading, Task.Delay(LastWords, _time));
            if (reading.IsFaulted)
            {
                await reading;
            }

            throw;
        }
    }

    private async Task ReadAsync(CancellationToken cancellationToken)
    {
        while (true)
        {
            var packet = await _link.ReceiveAsync(cancellationToken);
            Interlocked.Exchange(ref _lastHeard, _time.GetTimestamp());
            switch (packet)
            {
                case MqttPublishPacket publish when !_leaving:
                    await TakeAsync(publish, cancellationToken);
                    break;
                case MqttPingRespPacket:
                    _answered.TrySetResult();
                    break;
                case MqttSubAckPacket granted:
                    _subscribed.TrySetResult(granted);
                    break;
                case MqttDisconnectPacket goodbye:
                    throw ConnectFailure.OfGoodbye(goodbye, _options);
            }
        }
    }

    private async ValueTask TakeAsync(MqttPublishPacket publish, CancellationToken cancellationToken)
    {
        var at = ReceivedAt.From(_time.GetUtcNow());
        _waitingForStore = true;
        if (_interest.IsMapped(publish.Topic))
        {
            // The broker keeps the retain flag only on what it sends because we subscribed.
            var message = InboundGuard.Message(publish.Topic, publish.Payload, at, _session, publish.PacketIdentifier, publish.Dup, publish.Retain);
            await _window.AddAsync(message, cancellationToken);
        }
        else
        {
            if (publish.Topic == _echoTopic && publish.Payload.ToArray().AsSpan().SequenceEqual(_echoPayload))
            {
                _echoed.TrySetResult();
            }
            else if (!TopicInterest.IsEcho(publish.Topic) && !StateTopics.IsState(publish.Topic))
            {
                _unmapped.Note(publish.Topic, publish.Payload, at);
            }

            await _window.AddUnrecordedAsync(publish.PacketIdentifier, cancellationToken);
        }

        _waitingForStore = false;
    }

    private Task AcknowledgeAsync(ushort packetId, CancellationToken cancellationToken) =>
        _link.SendAsync(new MqttPubAckPacket { PacketIdentifier = packetId, ReasonCode = MqttPubAckReasonCode.Success }, cancellationToken);

    private async Task TendAsync(CancellationToken stop, CancellationToken end)
    {
        using var either = CancellationTokenSource.CreateLinkedTokenSource(stop, end);
        try
        {
            var change = _interest.NextChange;
            _subscribedTo = _interest.SubscriptionFilters;
            await SubscribeAsync([.. _subscribedTo, _echoTopic], either.Token);
            await HearOurselvesAsync(either.Token);
            _board.Connected();
            while (true)
            {
                await AskAsync(either.Token);
                await Task.WhenAny(change, Task.Delay(KeepAlive(), _time, either.Token));
                either.Token.ThrowIfCancellationRequested();
                if (change.IsCompleted)
                {
                    change = _interest.NextChange;
                    await FollowInterestAsync(either.Token);
                }
            }
        }
        catch (OperationCanceledException) when (stop.IsCancellationRequested)
        {
            // Asked to stop: the caller says goodbye.
        }
    }

    private TimeSpan KeepAlive() =>
        _link.Answer.ServerKeepAlive is var seconds and > 0 && TimeSpan.FromSeconds(seconds) < _options.KeepAlive ? TimeSpan.FromSeconds(seconds) : _options.KeepAlive;

    /// <summary>Subscribes to what came before leaving what went, and to nothing twice: a broker would send its retained messages again.</summary>
    private async Task FollowInterestAsync(CancellationToken cancellationToken)
    {
        var wanted = _interest.SubscriptionFilters;
        List<string> added = [.. wanted.Except(_subscribedTo, StringComparer.Ordinal)];
        List<string> gone = [.. _subscribedTo.Except(wanted, StringComparer.Ordinal)];
        if (added.Count > 0)
        {
            await SubscribeAsync(added, cancellationToken);
        }

        if (gone.Count > 0)
        {
            await _link.SendAsync(new MqttUnsubscribePacket { PacketIdentifier = UnsubscribePacketId, TopicFilters = gone }, cancellationToken);
        }

        _subscribedTo = wanted;
    }

    private async Task SubscribeAsync(List<string> filters, CancellationToken cancellationToken)
    {
        _subscribed = new TaskCompletionSource<MqttSubAckPacket>(TaskCreationOptions.RunContinuationsAsynchronously);
        var packet = new MqttSubscribePacket
        {
            PacketIdentifier = SubscribePacketId,
            TopicFilters = [.. filters.Select(filter => new MqttTopicFilter
            {
                Topic = filter,
                QualityOfServiceLevel = MqttQualityOfServiceLevel.AtLeastOnce,
                RetainAsPublished = false,
                RetainHandling = MqttRetainHandling.SendAtSubscribe,
            })],
        };
        await _link.SendAsync(packet, cancellationToken);
        await AnswerAsync(_subscribed.Task, _options.StepTimeout, BrokerFailureException.Silent, cancellationToken);
        var reasons = (await _subscribed.Task).ReasonCodes;
        for (var i = 0; i < filters.Count; i++)
        {
            if (i >= reasons.Count || reasons[i] >= MqttSubscribeReasonCode.UnspecifiedError)
            {
                var said = i < reasons.Count ? reasons[i].ToString() : "no answer for this filter";
                throw BrokerFailureException.Refused(BrokerProblems.SubscriptionRefused, null, filters[i], said);
            }
        }
    }

    private async Task HearOurselvesAsync(CancellationToken cancellationToken)
    {
        var echo = new MqttPublishPacket
        {
            Topic = _echoTopic,
            PacketIdentifier = EchoPacketId,
            QualityOfServiceLevel = MqttQualityOfServiceLevel.AtLeastOnce,
            Payload = new ReadOnlySequence<byte>(_echoPayload),
        };
        await _link.SendAsync(echo, cancellationToken);
        await AnswerAsync(
            _echoed.Task, _options.StepTimeout, _ => BrokerFailureException.Refused(BrokerProblems.EchoMissing, null, _echoTopic), cancellationToken);
    }

    /// <summary>An answer proves that the broker handled what we sent before the question, our acknowledgements included.</summary>
    private async Task AskAsync(CancellationToken cancellationToken)
    {
        var acknowledged = _window.Newest;
        _answered = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        await _link.SendAsync(MqttPingReqPacket.Instance, cancellationToken);
        await AnswerAsync(_answered.Task, KeepAlive() / 2, BrokerFailureException.Silent, cancellationToken);
        if (acknowledged <= _confirmed)
        {
            return;
        }

        try
        {
            await _confirm(_session, acknowledged, cancellationToken);
            _confirmed = acknowledged;
        }
        catch (StorageUnavailableException cause)
        {
            _logger.LogDebug(cause, "What the broker knows to be acknowledged could not be recorded");
        }
    }

    /// <summary>Waits for an answer as long as other packets come, or as long as they wait for the store: the answer is behind them.</summary>
    private async Task AnswerAsync(Task answer, TimeSpan patience, Func<TimeSpan, Exception> tooLate, CancellationToken cancellationToken)
    {
        var asked = _time.GetTimestamp();
        while (!answer.IsCompleted)
        {
            var quiet = _time.GetElapsedTime(Math.Max(asked, Interlocked.Read(ref _lastHeard)));
            if (quiet >= patience && !_waitingForStore)
            {
                throw tooLate(quiet);
            }

            var left = quiet < patience ? patience - quiet : patience / 4;
            await Task.WhenAny(answer, Task.Delay(left, _time, cancellationToken));
            cancellationToken.ThrowIfCancellationRequested();
        }
    }

    private async Task LeaveAsync(Task acknowledging, CancellationToken end)
    {
        _leaving = true;
        using var limit = new CancellationTokenSource(LongestGoodbye, _time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(limit.Token, end);
        try
        {
            _window.Complete();
            await acknowledging.WaitAsync(either.Token);
            await AskAsync(either.Token);
            await _link.SendAsync(new MqttDisconnectPacket { ReasonCode = MqttDisconnectReasonCode.NormalDisconnection }, either.Token);
        }
        catch (Exception cause) when (cause is OperationCanceledException or BrokerFailureException)
        {
            _logger.LogDebug(cause, "The goodbye to the broker was cut short");
        }
    }

    private void OnStorageFailure(StorageUnavailableException failure)
    {
        _board.StorageFails(failure.Message);
        _logger.LogWarning(failure, "A message could not be recorded; it stays unacknowledged and is tried again");
    }
}
