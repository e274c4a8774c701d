using System.Globalization;
using MQTTnet;
using MQTTnet.Exceptions;
using MQTTnet.Formatter;
using MQTTnet.LowLevelClient;
using MQTTnet.Packets;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>The bare connection to an external broker: opened, greeted, packets in and out, failures with their cause.</summary>
internal sealed class BrokerWire : IDisposable
{
    private readonly ILowLevelMqttClient _client = new MqttClientFactory().CreateLowLevelMqttClient();
    private readonly ExternalBrokerOptions _options;
    private readonly TimeProvider _time;

    private BrokerWire(ExternalBrokerOptions options, TimeProvider time)
    {
        _options = options;
        _time = time;
    }

    /// <summary>The broker's answer to our greeting.</summary>
    public MqttConnAckPacket Answer { get; private set; } = new();

    /// <summary>Connects and greets.</summary>
    /// <exception cref="BrokerFailureException">No connection, or the broker does not accept us.</exception>
    public static async Task<BrokerWire> OpenAsync(
        ExternalBrokerOptions options, MqttProtocolVersion version, TimeProvider time, CancellationToken cancellationToken)
    {
        var trust = options.UseTls ? new BrokerTrust(options) : null;
        var link = new BrokerWire(options, time);
        try
        {
            var settings = link.Settings(version, trust);
            await link.ConnectAsync(settings, trust, cancellationToken);
            await link.GreetAsync(settings, cancellationToken);
            return link;
        }
        catch
        {
            link.Dispose();
            throw;
        }
    }

    /// <summary>Sends a packet.</summary>
    public async Task SendAsync(MqttPacket packet, CancellationToken cancellationToken)
    {
        try
        {
            await _client.SendAsync(packet, cancellationToken);
        }
        catch (Exception cause) when (IsBreak(cause))
        {
            throw Lost(cause);
        }
    }

    /// <summary>Waits for a packet.</summary>
    public async ValueTask<MqttPacket> ReceiveAsync(CancellationToken cancellationToken)
    {
        try
        {
            return await _client.ReceiveAsync(cancellationToken) ?? throw Lost(null);
        }
        catch (Exception cause) when (IsBreak(cause))
        {
            throw Lost(cause);
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _client.Dispose();

    private static bool IsBreak(Exception cause) =>
        cause is MqttCommunicationException or MqttProtocolViolationException or IOException or System.Net.Sockets.SocketException or ObjectDisposedException;

    private static BrokerFailureException Lost(Exception? cause) =>
        BrokerFailureException.Broken(BrokerProblems.ConnectionLost, cause, cause?.GetBaseException().Message ?? "closed by the broker");

    private MqttClientOptions Settings(MqttProtocolVersion version, BrokerTrust? trust)
    {
        var builder = new MqttClientOptionsBuilder()
            .WithTcpServer(_options.Host, _options.Port)
            .WithProtocolVersion(version)
            .WithClientId(_options.ClientId)
            .WithCleanStart(_options.CleanSession)
            .WithKeepAlivePeriod(_options.KeepAlive)
            .WithTryPrivate(false)
            .WithTimeout(_options.StepTimeout);
        if (_options.UserName is not null)
        {
            builder.WithCredentials(_options.UserName, _options.Password ?? "");
        }

        if (trust is not null)
        {
            builder.WithTlsOptions(trust.Options());
        }

        if (version == MqttProtocolVersion.V500)
        {
            builder
                .WithSessionExpiryInterval(_options.CleanSession ? 0 : (uint)_options.SessionExpiry.TotalSeconds)
                .WithReceiveMaximum(_options.ReceiveMaximum)
                .WithMaximumPacketSize(BrokerListener.LongestPacket);
        }

        return builder.Build();
    }

    private async Task ConnectAsync(MqttClientOptions settings, BrokerTrust? trust, CancellationToken cancellationToken)
    {
        using var limit = new CancellationTokenSource(_options.StepTimeout, _time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(limit.Token, cancellationToken);
        try
        {
            await _client.ConnectAsync(settings, either.Token);
        }
        catch (Exception cause) when (!cancellationToken.IsCancellationRequested && cause is not InvalidOperationException)
        {
            throw ConnectFailure.OfNetwork(cause, _options, trust);
        }
    }

    private async Task GreetAsync(MqttClientOptions settings, CancellationToken cancellationToken)
    {
        using var limit = new CancellationTokenSource(_options.StepTimeout, _time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(limit.Token, cancellationToken);
        try
        {
            await _client.SendAsync(MqttConnectPacketFactory.Create(settings), either.Token);
            Answer = await _client.ReceiveAsync(either.Token) as MqttConnAckPacket ?? throw ConnectFailure.NotUnderstood(null, _options);
        }
        catch (Exception cause) when (limit.IsCancellationRequested && !cancellationToken.IsCancellationRequested)
        {
            throw BrokerFailureException.Broken(BrokerProblems.NoAnswer, cause, _options.Host, _options.Port.ToString(CultureInfo.InvariantCulture));
        }
        catch (Exception cause) when (IsBreak(cause) || cause is InvalidOperationException or FormatException)
        {
            throw ConnectFailure.NotUnderstood(cause, _options);
        }

        if (ConnectFailure.OfGreeting(Answer, _options) is { } refusal)
        {
            throw refusal;
        }
    }
}
