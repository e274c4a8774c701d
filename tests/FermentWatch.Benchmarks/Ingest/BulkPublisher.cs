using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;
using FermentWatch.System.Tests.Mqtt;

namespace FermentWatch.Benchmarks.Ingest;

/// <summary>Publishes at quality of service 1 as fast as the broker takes it, and returns once everything is acknowledged.</summary>
internal static class BulkPublisher
{
    private const int MostOpen = 5000;
    private const int Piece = 100;

    public static async Task PublishAsync(int port, string device, int count)
    {
        using var client = new TcpClient { NoDelay = true };
        await client.ConnectAsync(IPAddress.Loopback, port);
        var stream = client.GetStream();
        await stream.WriteAsync(RawPackets.Connect(device, version: 4, cleanStart: true));
        await RawPackets.ReadAsync(stream, CancellationToken.None);
        using var room = new SemaphoreSlim(MostOpen, MostOpen);
        var acknowledged = CountAsync(client, count, room);
        var buffer = new MemoryStream();
        for (var i = 1; i <= count; i++)
        {
            await room.WaitAsync();
            var payload = Encoding.ASCII.GetBytes(string.Create(CultureInfo.InvariantCulture, $"1.{i % 100000:D5}"));
            buffer.Write(RawPackets.Publish($"cellar/{device}/sg", payload, (ushort)((i % 65535) + 1), version: 4, duplicate: false));
            if (i % Piece == 0 || i == count)
            {
                await stream.WriteAsync(buffer.ToArray());
                buffer.SetLength(0);
            }
        }

        await acknowledged;
    }

    private static async Task CountAsync(TcpClient client, int count, SemaphoreSlim room)
    {
        var buffered = new BufferedStream(client.GetStream(), 64 * 1024);
        for (var i = 0; i < count; i++)
        {
            if (await RawPackets.ReadAsync(buffered, CancellationToken.None) is null)
            {
                throw new InvalidOperationException("The broker closed the publisher's connection.");
            }

            room.Release();
        }
    }
}
