using System.Diagnostics.CodeAnalysis;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using Microsoft.Extensions.Logging;
using MQTTnet.Formatter;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>
/// Receives from a broker that runs elsewhere: quality of service 1, a session that the broker keeps while we are away,
/// each message acknowledged after its commit, reconnecting by itself.
/// </summary>
public sealed class ExternalBrokerClient
{
    private const int MostTakeovers = 3;
    private static readonly TimeSpan TruceAfterTakeovers = TimeSpan.FromMinutes(15);
    private static readonly TimeSpan HeldLongEnough = TimeSpan.FromSeconds(30);

    private readonly ExternalBrokerOptions _options;
    private readonly TopicInterest _interest;
    private readonly RecordMessage _record;
    private readonly ConfirmAcknowledged _confirm;
    private readonly TimeProvider _time;
    private readonly ILogger _logger;
    private readonly StatusBoard _board;
    private readonly ReconnectDelay _delay;
    private MqttProtocolVersion _version;
    private bool _otherVersionTried;
    private int _takeovers;
    private int _shortLived;

    /// <summary>Prepares a client; <see cref="RunAsync"/> connects it.</summary>
    /// <param name="options">How to reach the broker.</param>
    /// <param name="interest">What to subscribe to and to record.</param>
    /// <param name="record">Records a message and returns once it is on disk.</param>
    /// <param name="confirm">Told which messages the broker knows to be acknowledged.</param>
    /// <param name="time">Clock for arrival times and waits.</param>
    /// <param name="logger">Log.</param>
    public ExternalBrokerClient(
        ExternalBrokerOptions options, TopicInterest interest, RecordMessage record, ConfirmAcknowledged confirm, TimeProvider time, ILogger logger)
    {
        ArgumentNullException.ThrowIfNull(options);
        _options = options;
        _interest = interest;
        _record = record;
        _confirm = confirm;
        _time = time;
        _logger = logger;
        _board = new StatusBoard(time);
        _delay = new ReconnectDelay(options.ShortestWait, options.LongestWait, Random.Shared);
        _version = options.Version == MqttVersionChoice.Version311 ? MqttProtocolVersion.V311 : MqttProtocolVersion.V500;
    }

    /// <summary>How the connection is doing now.</summary>
    public ExternalBrokerStatus Status => _board.Status;

    /// <summary>Topics that the broker still sends although no mapping names them any more.</summary>
    public UnmappedTopics Unmapped { get; } = new();

    /// <summary>Connects, receives and reconnects until <paramref name="stop"/> is cancelled. Then acknowledges what is on disk, says goodbye and returns.</summary>
    public async Task RunAsync(CancellationToken stop)
    {
        while (!stop.IsCancellationRequested)
        {
            _board.Connecting();
            var began = _time.GetTimestamp();
            var wait = await ServeOnceAsync(stop);
            if (_time.GetElapsedTime(began) >= HeldLongEnough)
            {
                _delay.Reset();
                _takeovers = 0;
                _shortLived = 0;
            }

            if (wait && !stop.IsCancellationRequested)
            {
                await PauseAsync(stop);
            }
        }

        _board.Ended(BrokerConnectionState.Stopped, null);
    }

    [SuppressMessage("Design", "CA1031", Justification = "The edge of the pipeline: whatever went wrong in one connection, the next one is tried.")]
    private async Task<bool> ServeOnceAsync(CancellationToken stop)
    {
        try
        {
            await BrokerConnection.RunAsync(_version, _options, _interest, _record, _confirm, _time, _logger, _board, Unmapped, stop);
            return false;
        }
        catch (OperationCanceledException) when (stop.IsCancellationRequested)
        {
            return false;
        }
        catch (BrokerFailureException failure)
        {
            return IsWorthWaiting(failure);
        }
        catch (Exception unexpected)
        {
            _logger.LogError(unexpected, "The connection to the broker ended unexpectedly");
            _board.Ended(BrokerConnectionState.WaitingToReconnect, Reason.Of(BrokerProblems.Unexpected, new ReasonValue.Name(unexpected.GetType().Name)));
            return true;
        }
    }

    private bool IsWorthWaiting(BrokerFailureException failure)
    {
        if (_board.Status.State == BrokerConnectionState.Connected)
        {
            _otherVersionTried = false;
        }

        if (failure.MayBeVersion && _options.Version == MqttVersionChoice.Automatic)
        {
            _version = _version == MqttProtocolVersion.V500 ? MqttProtocolVersion.V311 : MqttProtocolVersion.V500;
            if (!_otherVersionTried)
            {
                _otherVersionTried = true;
                return false;
            }
        }

        var reason = failure.Reason;
        if (reason.Code == BrokerProblems.ClientIdTaken)
        {
            _takeovers++;
        }
        else if (failure.AfterGreeting && reason.Code == BrokerProblems.ConnectionLost && ++_shortLived >= MostTakeovers)
        {
            // Many brokers close a connection without a word when another client comes with its id.
            reason = Reason.Of(BrokerProblems.ClientIdTaken, new ReasonValue.Name(_options.ClientId));
        }

        var isRefusal = failure.IsRefusal || reason.Code == BrokerProblems.ClientIdTaken;
        _board.Ended(isRefusal ? BrokerConnectionState.Refused : BrokerConnectionState.WaitingToReconnect, reason);
        _logger.LogWarning("Broker {Host}, port {Port}: {Cause}", _options.Host, _options.Port, failure.Message);
        return true;
    }

    private async Task PauseAsync(CancellationToken stop)
    {
        var next = _delay.Next();
        var pause = _takeovers >= MostTakeovers ? TruceAfterTakeovers : _shortLived >= MostTakeovers ? _options.LongestWait : next;
        try
        {
            await Task.Delay(pause, _time, stop);
        }
        catch (OperationCanceledException)
        {
            // Asked to stop.
        }
    }
}
