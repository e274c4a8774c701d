using System.Buffers.Binary;
using System.Text;

namespace FermentWatch.System.Tests.Mqtt;

/// <summary>Bytes of the few MQTT packets that a publisher needs, by the standards (OASIS MQTT 3.1.1 sections 2 and 3, MQTT 5 sections 2 and 3).</summary>
internal static class RawPackets
{
    public const byte ConnectAcknowledged = 0x20;
    public const byte PublishAcknowledged = 0x40;

    public static byte[] Connect(string clientId, int version, bool cleanStart, ushort keepAliveSeconds = 60)
    {
        List<byte> body = [.. Utf8("MQTT"), (byte)version, (byte)(cleanStart ? 2 : 0), .. UInt16(keepAliveSeconds)];
        if (version == 5)
        {
            // One property: session expiry interval, an hour.
            body.AddRange([5, 0x11, 0, 0, 0x0E, 0x10]);
        }

        body.AddRange(Utf8(clientId));
        return Packet(0x10, body);
    }

    public static byte[] Publish(string topic, byte[] payload, ushort packetId, int version, bool duplicate)
    {
        List<byte> body = [.. Utf8(topic), .. UInt16(packetId)];
        if (version == 5)
        {
            body.Add(0);
        }

        body.AddRange(payload);
        return Packet((byte)(0x32 | (duplicate ? 8 : 0)), body);
    }

    public static byte[] Disconnect() => [0xE0, 0];

    /// <summary>Reads one packet; null at the end of the stream.</summary>
    public static async Task<(byte Type, byte[] Body)?> ReadAsync(Stream stream, CancellationToken cancellationToken)
    {
        var one = new byte[1];
        if (await stream.ReadAsync(one, cancellationToken) == 0)
        {
            return null;
        }

        var type = (byte)(one[0] & 0xF0);
        int length = 0, shift = 0;
        do
        {
            await stream.ReadExactlyAsync(one, cancellationToken);
            length |= (one[0] & 0x7F) << shift;
            shift += 7;
        }
        while ((one[0] & 0x80) != 0);
        var body = new byte[length];
        await stream.ReadExactlyAsync(body, cancellationToken);
        return (type, body);
    }

    private static byte[] Packet(byte first, List<byte> body)
    {
        List<byte> packet = [first];
        var length = body.Count;
        do
        {
            packet.Add((byte)((length & 0x7F) | (length > 0x7F ? 0x80 : 0)));
            length >>= 7;
        }
        while (length > 0);
        packet.AddRange(body);
        return [.. packet];
    }

    private static byte[] Utf8(string text) => [.. UInt16((ushort)Encoding.UTF8.GetByteCount(text)), .. Encoding.UTF8.GetBytes(text)];

    private static byte[] UInt16(ushort number)
    {
        var bytes = new byte[2];
        BinaryPrimitives.WriteUInt16BigEndian(bytes, number);
        return bytes;
    }
}
