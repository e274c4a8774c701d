using System.Net;
using System.Security.Cryptography.X509Certificates;
using MQTTnet.Adapter;
using MQTTnet.Formatter;
using MQTTnet.Packets;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>
/// Names clients that give no name. MQTT 3.1.1 allows that with a clean session (section 3.1.3.1); the library beneath refuses it there.
/// </summary>
internal sealed class NamingChannel(IMqttChannelAdapter inner) : IMqttChannelAdapter
{
    /// <inheritdoc/>
    public long BytesReceived => inner.BytesReceived;

    /// <inheritdoc/>
    public long BytesSent => inner.BytesSent;

    /// <inheritdoc/>
    public X509Certificate2 ClientCertificate => inner.ClientCertificate;

    /// <inheritdoc/>
    public EndPoint RemoteEndPoint => inner.RemoteEndPoint;

    /// <inheritdoc/>
    public EndPoint LocalEndPoint => inner.LocalEndPoint;

    /// <inheritdoc/>
    public bool IsSecureConnection => inner.IsSecureConnection;

    /// <inheritdoc/>
    public MqttPacketFormatterAdapter PacketFormatterAdapter => inner.PacketFormatterAdapter;

    /// <summary>A name that no other client has.</summary>
    public static string NewName() => $"unnamed-{Guid.NewGuid():N}";

    /// <inheritdoc/>
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

    /// <inheritdoc/>
    public Task ConnectAsync(CancellationToken cancellationToken) => inner.ConnectAsync(cancellationToken);

    /// <inheritdoc/>
    public Task DisconnectAsync(CancellationToken cancellationToken) => inner.DisconnectAsync(cancellationToken);

    /// <inheritdoc/>
    public Task SendPacketAsync(MqttPacket packet, CancellationToken cancellationToken) => inner.SendPacketAsync(packet, cancellationToken);

    /// <inheritdoc/>
    public void ResetStatistics() => inner.ResetStatistics();

    /// <inheritdoc/>
    public void Dispose() => inner.Dispose();
}
