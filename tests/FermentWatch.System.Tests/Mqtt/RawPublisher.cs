using System.Buffers.Binary;
using System.Net;
using System.Net.Sockets;
using System.Text;

namespace FermentWatch.System.Tests.Mqtt;

/// <summary>
/// A device of quality of service 1 that shows what client libraries hide: it keeps what was not acknowledged, sends it again with the DUP flag
/// and the same packet identifier after a reconnect, and keeps its own list of acknowledgements.
/// </summary>
/// <param name="clientId">Client id.</param>
/// <param name="version">4 for MQTT 3.1.1, 5 for MQTT 5.</param>
/// <param name="port">Port of the broker on loopback.</param>
internal sealed class RawPublisher(string clientId, int version, int port) : IAsyncDisposable
{
    private readonly Lock _lock = new();
    private readonly List<(string Topic, string Payload)> _acknowledged = [];
    private readonly List<(string Topic, string Payload)> _sent = [];
    private readonly SortedList<long, (ushort PacketId, string Topic, string Payload)> _open = [];
    private TcpClient? _client;
    private Task _reading = Task.CompletedTask;
    private long _order;
    private ushort _packetId;

    /// <summary>What the broker acknowledged, in order.</summary>
    public IReadOnlyList<(string Topic, string Payload)> Acknowledged
    {
        get
        {
            lock (_lock)
            {
                return [.. _acknowledged];
            }
        }
    }

    /// <summary>Everything that was handed over for sending, once each.</summary>
    public IReadOnlyList<(string Topic, string Payload)> Sent
    {
        get
        {
            lock (_lock)
            {
                return [.. _sent];
            }
        }
    }

    public int OpenCount
    {
        get
        {
            lock (_lock)
            {
                return _open.Count;
            }
        }
    }

    /// <summary>False once the connection has ended.</summary>
    public bool Connected => !_reading.IsCompleted;

    /// <summary>Messages that were sent again.</summary>
    public int Redelivered { get; private set; }

    /// <summary>Connects and sends again what is open. False when nobody answers.</summary>
    public async Task<bool> TryConnectAsync(bool cleanStart = false)
    {
        await CloseAsync();
        var client = new TcpClient { NoDelay = true };
        try
        {
            await client.ConnectAsync(IPAddress.Loopback, port);
            var stream = client.GetStream();
            await stream.WriteAsync(RawPackets.Connect(clientId, version, cleanStart));
            var answer = await RawPackets.ReadAsync(stream, CancellationToken.None);
            if (answer is not { Type: RawPackets.ConnectAcknowledged, Body: [_, 0, ..] })
            {
                client.Dispose();
                return false;
            }

            _client = client;
            _reading = ReadAsync(stream);
            List<(ushort PacketId, string Topic, string Payload)> open;
            lock (_lock)
            {
                open = [.. _open.Values];
            }

            foreach (var message in open)
            {
                Redelivered++;
                await stream.WriteAsync(Bytes(message, duplicate: true));
            }

            return true;
        }
        catch (Exception cause) when (cause is SocketException or IOException)
        {
            client.Dispose();
            return false;
        }
    }

    /// <summary>Sends a message; it stays open until it is acknowledged, over as many connections as that takes.</summary>
    public async Task PublishAsync(string topic, string payload)
    {
        (ushort PacketId, string Topic, string Payload) message;
        lock (_lock)
        {
            do
            {
                _packetId = (ushort)(_packetId % 65535 + 1);
            }
            while (_open.Values.Any(open => open.PacketId == _packetId));
            message = (_packetId, topic, payload);
            _open.Add(_order++, message);
            _sent.Add((topic, payload));
        }

        try
        {
            await _client!.GetStream().WriteAsync(Bytes(message, duplicate: false));
        }
        catch (Exception cause) when (cause is SocketException or IOException or InvalidOperationException)
        {
            // Gone: it is sent again after the next connect.
        }
    }

    public async Task DisconnectAsync()
    {
        await _client!.GetStream().WriteAsync(RawPackets.Disconnect());
        await _reading;
    }

    /// <summary>Drops the connection without a word.</summary>
    public async Task CloseAsync()
    {
        _client?.Dispose();
        await _reading;
    }

    public async ValueTask DisposeAsync() => await CloseAsync();

    private byte[] Bytes((ushort PacketId, string Topic, string Payload) message, bool duplicate) =>
        RawPackets.Publish(message.Topic, Encoding.UTF8.GetBytes(message.Payload), message.PacketId, version, duplicate);

    private async Task ReadAsync(Stream stream)
    {
        try
        {
            while (await RawPackets.ReadAsync(stream, CancellationToken.None) is { } packet)
            {
                if (packet.Type == RawPackets.PublishAcknowledged)
                {
                    NoteAcknowledged(BinaryPrimitives.ReadUInt16BigEndian(packet.Body));
                }
            }
        }
        catch (Exception cause) when (cause is SocketException or IOException or ObjectDisposedException)
        {
            // The end of the connection.
        }
    }

    private void NoteAcknowledged(ushort packetId)
    {
        lock (_lock)
        {
            foreach (var (order, message) in _open)
            {
                if (message.PacketId == packetId)
                {
                    _open.Remove(order);
                    _acknowledged.Add((message.Topic, message.Payload));
                    return;
                }
            }
        }
    }
}
