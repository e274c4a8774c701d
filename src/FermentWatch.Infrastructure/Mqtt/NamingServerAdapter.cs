using System.Net;
using System.Security.Cryptography.X509Certificates;
using MQTTnet.Adapter;
using MQTTnet.Diagnostics.Logger;
using MQTTnet.Formatter;
using MQTTnet.Packets;
using MQTTnet.Server;
using MQTTnet.Server.Internal.Adapter;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>
/// Names clients that give no name. MQTT 3.1.1 allows that with a clean session (section 3.1.3.1); the library beneath refuses it there.
/// </summary>
internal sealed class NamingServerAdapter : IMqttServerAdapter
{
    private readonly MqttTcpServerAdapter _inner = new();

    /// <inheritdoc/>
    public Func<IMqttChannelAdapter, Task> ClientHandler { get; set; } = _ => Task.CompletedTask;

    /// <summary>A name that no other client has.</summary>
    public static string NewName() => $"unnamed-{Guid.NewGuid():N}";

    /// <inheritdoc/>
    public Task StartAsync(MqttServerOptions options, IMqttNetLogger logger)
    {
        _inner.ClientHandler = channel => ClientHandler(new NamingChannel(channel));
        return _inner.StartAsync(options, logger);
    }

    /// <inheritdoc/>
    public Task StopAsync() => _inner.StopAsync();

    /// <inheritdoc/>
    public void Dispose() => _inner.Dispose();

    private sealed class NamingChannel(IMqttChannelAdapter inner) : IMqttChannelAdapter
    {
        public long BytesReceived => inner.BytesReceived;

        public long BytesSent => inner.BytesSent;

        public X509Certificate2 ClientCertificate => inner.ClientCertificate;

        public EndPoint RemoteEndPoint => inner.RemoteEndPoint;

        public EndPoint LocalEndPoint => inner.LocalEndPoint;

        public bool IsSecureConnection => inner.IsSecureConnection;

        public MqttPacketFormatterAdapter PacketFormatterAdapter => inner.PacketFormatterAdapter;

        public async Task<MqttPacket> ReceivePacketAsync(CancellationToken cancellationToken)
        {
            var packet = await inner.ReceivePacketAsync(cancellationToken);
            if (packet is MqttConnectPacket { CleanSession: true } greeting
                && string.IsNullOrEmpty(greeting.ClientId)
                && PacketFormatterAdapter.ProtocolVersion != MqttProtocolVersion.V500)
            {
                greeting.ClientId = NewName();
            }

            return packet;
        }

        public Task ConnectAsync(CancellationToken cancellationToken) => inner.ConnectAsync(cancellationToken);

        public Task DisconnectAsync(CancellationToken cancellationToken) => inner.DisconnectAsync(cancellationToken);

        public Task SendPacketAsync(MqttPacket packet, CancellationToken cancellationToken) => inner.SendPacketAsync(packet, cancellationToken);

        public void ResetStatistics() => inner.ResetStatistics();

        public void Dispose() => inner.Dispose();
    }
}
