using System.Collections.Concurrent;
using System.Net;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using Microsoft.Extensions.Logging;
using MQTTnet;
using MQTTnet.Packets;
using MQTTnet.Protocol;
using MQTTnet.Server;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>
/// The broker inside the service (MQTT 3.1.1 and 5). Its acknowledgement of a message on a mapped topic means that the message is on disk.
/// When the store cannot take one, the connection closes without an acknowledgement, so that the device sends it again.
/// </summary>
public sealed class EmbeddedBroker : IAsyncDisposable
{
    private readonly EmbeddedBrokerOptions _options;
    private readonly TopicInterest _interest;
    private readonly RecordMessage _record;
    private readonly ConfirmAcknowledged _confirm;
    private readonly TimeProvider _time;
    private readonly ILogger _logger;
    private readonly MqttServer _server;
    private readonly BrokerDoor _door;
    private readonly RetainedCap _retained = new();

    // Nobody can guess it, so that no device passes for us.
    private readonly string _ownSender = "own-" + Guid.NewGuid().ToString("N");
    private readonly ConcurrentDictionary<CancellationToken, ConnectionLedger> _ledgers = new();
    private volatile IPEndPoint? _listening;
    private volatile Reason? _problem;
    private long _recorded;
    private long _notRecorded;
    private long _lastMessageAt;

    /// <summary>Prepares a broker; <see cref="StartAsync"/> opens it.</summary>
    /// <param name="options">Where to listen, and limits.</param>
    /// <param name="interest">Which topics to record.</param>
    /// <param name="record">Records a message and returns once it is on disk.</param>
    /// <param name="confirm">Told what a device that said goodbye has seen acknowledged.</param>
    /// <param name="time">Clock for arrival times.</param>
    /// <param name="logger">Log.</param>
    public EmbeddedBroker(
        EmbeddedBrokerOptions options, TopicInterest interest, RecordMessage record, ConfirmAcknowledged confirm, TimeProvider time, ILogger logger)
    {
        ArgumentNullException.ThrowIfNull(options);
        _options = options;
        _interest = interest;
        _record = record;
        _confirm = confirm;
        _time = time;
        _logger = logger;
        _door = new BrokerDoor(options);
        _server = _door.Build(new LibraryLog(logger));
        _server.InterceptingInboundPacketAsync += OnInboundPacketAsync;
        _server.InterceptingPublishAsync += OnPublishAsync;
        _server.InterceptingOutboundPacketAsync += OnOutboundPacketAsync;
    }

    /// <summary>Topics that devices publish and nobody mapped.</summary>
    public UnmappedTopics Unmapped { get; } = new();

    /// <summary>How it is doing now.</summary>
    public EmbeddedBrokerStatus Status => new(
        _listening,
        _door.Clients,
        Interlocked.Read(ref _recorded),
        Interlocked.Read(ref _notRecorded),
        Unmapped.Messages,
        Interlocked.Read(ref _lastMessageAt) is var at and not 0 ? new ReceivedAt(at) : null,
        _problem);

    /// <summary>Connections whose bookkeeping is still held.</summary>
    internal int OpenLedgers => _ledgers.Count;

    /// <summary>Opens the port.</summary>
    /// <exception cref="BrokerStartException">The address or port cannot be used; the message says why and what would be right.</exception>
    public async Task StartAsync(CancellationToken cancellationToken)
    {
        cancellationToken.ThrowIfCancellationRequested();
        await _server.StartAsync();
        _listening = new IPEndPoint(_options.Address, _options.Port);
        _logger.LogInformation("Embedded broker listens on {Address}, port {Port}", _options.Address, _options.Port);
        if (_options.Certificate is not null)
        {
            _logger.LogInformation("Embedded broker takes encrypted connections on {Address}, port {Port}", _options.Address, _options.TlsPort);
        }

    }

    /// <summary>Tells a state of ours to whoever subscribed, and keeps it for whoever comes later.</summary>
    public Task LeaveAsync(StateMessage message, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(message);
        var told = new MqttApplicationMessageBuilder()
            .WithTopic(message.Topic)
            .WithPayload(message.Payload)
            .WithRetainFlag()
            .WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce)
            .Build();
        return _server.InjectApplicationMessage(new InjectedMqttApplicationMessage(told) { SenderClientId = _ownSender }, cancellationToken);
    }

    /// <summary>Closes every connection and the port.</summary>
    public async Task StopAsync()
    {
        if (_server.IsStarted)
        {
            await _server.StopAsync();
            _listening = null;
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await StopAsync();
        _server.Dispose();
    }

    private async Task OnInboundPacketAsync(InterceptingPacketEventArgs args)
    {
        switch (args.Packet)
        {
            case MqttPublishPacket publish:
                LedgerOf(args.ClientId, args.CancellationToken).Received(publish.PacketIdentifier);
                break;
            case MqttDisconnectPacket when LedgerOf(args.ClientId, args.CancellationToken) is var ledger && ledger.TryConfirm(out var sequence):
                await ConfirmAsync(ledger.Session, sequence);
                break;
        }
    }

    private Task OnOutboundPacketAsync(InterceptingPacketEventArgs args)
    {
        if (args.Packet is MqttPubAckPacket or MqttPubRecPacket)
        {
            LedgerOf(args.ClientId, args.CancellationToken).Acknowledged();
        }

        return Task.CompletedTask;
    }

    private async Task OnPublishAsync(InterceptingPublishEventArgs args)
    {
        var message = args.ApplicationMessage;
        if (args.ClientId == _ownSender)
        {
            return;
        }

        if (_options.Admission is { } admission && !admission.MayPublish(args.UserName, message.Topic))
        {
            // Closed rather than answered alone: an MQTT 3.1.1 client would take an acknowledgement for a recorded reading.
            args.ProcessPublish = false;
            args.CloseConnection = true;
            args.Response.ReasonCode = MqttPubAckReasonCode.NotAuthorized;
            _logger.LogWarning("{Client} may not publish to {Topic}; its connection was closed", args.ClientId, message.Topic);
            return;
        }

        var at = ReceivedAt.From(_time.GetUtcNow());
        var oversize = InboundGuard.IsOversize(message.Payload.Length);
        message.Retain = message.Retain && !oversize && _retained.Admits(message);
        if (!_interest.IsMapped(message.Topic))
        {
            if (!TopicInterest.IsOwn(message.Topic))
            {
                Unmapped.Note(message.Topic, message.Payload, at);
            }

            args.ProcessPublish = !oversize;
            return;
        }

        // A message that a device publishes here with the retain flag is live: it is a reading like any other.
        var ledger = LedgerOf(args.ClientId, args.CancellationToken);
        var inbound = InboundGuard.Message(message.Topic, message.Payload, at, ledger.Session, ledger.PacketId, message.Dup, lastKnown: false);
        try
        {
            // Not cancelled with the connection: a commit that was begun ends, and the device's second try finds it done.
            var receipt = await _record(inbound, CancellationToken.None);
            ledger.Recorded(receipt.Sequence);
            Interlocked.Increment(ref _recorded);
            Interlocked.Exchange(ref _lastMessageAt, at.UnixMicroseconds);
            _problem = null;
            args.ProcessPublish = !oversize;
        }
        catch (StorageUnavailableException cause)
        {
            // Refusing by reason code would still acknowledge to MQTT 3.1.1 clients. Quality of service 0 expects no answer, so closing would gain nothing.
            args.ProcessPublish = false;
            args.CloseConnection = message.QualityOfServiceLevel != MqttQualityOfServiceLevel.AtMostOnce;
            Interlocked.Increment(ref _notRecorded);
            _problem = Reason.Of(BrokerProblems.StorageUnavailable, new ReasonValue.Name(cause.Message));
            _logger.LogWarning(cause, "A message on {Topic} from {Session} could not be recorded and was not acknowledged", message.Topic, ledger.Session);
        }
    }

    private async Task ConfirmAsync(string session, long sequence)
    {
        try
        {
            await _confirm(session, sequence, CancellationToken.None);
        }
        catch (StorageUnavailableException cause)
        {
            _logger.LogDebug(cause, "The goodbye of {Session} could not be recorded", session);
        }
    }

    // A connection's token names it better than the client id: after a takeover two connections share the id for a moment.
    private ConnectionLedger LedgerOf(string clientId, CancellationToken connection)
    {
        if (_ledgers.TryGetValue(connection, out var ledger))
        {
            return ledger;
        }

        ledger = _ledgers.GetOrAdd(connection, new ConnectionLedger($"embedded/{clientId}"));
        connection.UnsafeRegister(_ => _ledgers.TryRemove(connection, out ConnectionLedger? _), null);
        return ledger;
    }
}
