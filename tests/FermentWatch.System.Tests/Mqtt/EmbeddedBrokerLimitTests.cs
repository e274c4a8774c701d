using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using FermentWatch.Infrastructure.Mqtt;
using Xunit;

namespace FermentWatch.System.Tests.Mqtt;

public sealed class EmbeddedBrokerLimitTests
{
    [Fact]
    public async Task PacketThatAnnouncesTooMuch_EndsTheConnectionBeforeItsBodyCame()
    {
        await using var fixture = await EmbeddedFixture.StartAsync();
        using var client = await GreetAsync(fixture.Port);

        // PUBLISH with a remaining length of 268,435,455 bytes, the most that MQTT can say (MQTT 5 section 1.5.5), and nothing behind it.
        await client.GetStream().WriteAsync(new byte[] { 0x32, 0xFF, 0xFF, 0xFF, 0x7F }, TestContext.Current.CancellationToken);

        Assert.True(await EndsAsync(client));
    }

    [Fact]
    public async Task MegabytePayload_IsAcknowledgedAndRecordedByItsHead()
    {
        await using var fixture = await EmbeddedFixture.StartAsync();
        await using var device = new RawPublisher("camera", 4, fixture.Port);
        Assert.True(await device.TryConnectAsync());

        await device.PublishAsync("cellar/x", new string('x', 1_000_000));
        await device.PublishAsync("cellar/x", "1.050");

        await Eventually.TrueAsync(() => device.Acknowledged.Count == 2, "both are acknowledged");
        Assert.Equal([(256, 1_000_000), (5, 5)], fixture.Probe.Messages.Select(message => (message.Payload.Length, message.Size)));
    }

    [Fact]
    public async Task SilentConnection_IsClosedAfterTheGreetingTimeout()
    {
        await using var fixture = await EmbeddedFixture.StartAsync(new EmbeddedBrokerOptions { GreetingTimeout = TimeSpan.FromSeconds(1) });
        using var client = new TcpClient();
        await client.ConnectAsync(IPAddress.Loopback, fixture.Port, TestContext.Current.CancellationToken);
        var watch = Stopwatch.StartNew();

        Assert.True(await EndsAsync(client));
        Assert.InRange(watch.Elapsed, TimeSpan.FromSeconds(0.9), Eventually.Deadline);
    }

    [Fact]
    public async Task HundredsOfSilentConnections_LeaveDevicesServed()
    {
        await using var fixture = await EmbeddedFixture.StartAsync(new EmbeddedBrokerOptions { MaximumClients = 500 });
        List<TcpClient> idle = [];
        for (var i = 0; i < 400; i++)
        {
            var client = new TcpClient();
            await client.ConnectAsync(IPAddress.Loopback, fixture.Port, TestContext.Current.CancellationToken);
            idle.Add(client);
        }

        await using var device = new RawPublisher("pail", 4, fixture.Port);
        Assert.True(await device.TryConnectAsync());
        await device.PublishAsync("cellar/x", "1.050");

        await Eventually.TrueAsync(() => device.Acknowledged.Count == 1, "the device is served");
        idle.ForEach(client => client.Dispose());
    }

    [Fact]
    public async Task BytesThatAreNoMqtt_EndTheirConnectionOnly()
    {
        await using var fixture = await EmbeddedFixture.StartAsync();
        const int Seed = 20261;
        var random = new Random(Seed);
        await using var device = new RawPublisher("pail", 5, fixture.Port);
        Assert.True(await device.TryConnectAsync());
        for (var i = 0; i < 200; i++)
        {
            var bytes = new byte[random.Next(1, 200)];
            random.NextBytes(bytes);
            using var client = i % 2 == 0 ? await GreetAsync(fixture.Port) : new TcpClient();
            if (!client.Connected)
            {
                await client.ConnectAsync(IPAddress.Loopback, fixture.Port, TestContext.Current.CancellationToken);
            }

            await client.GetStream().WriteAsync(bytes, TestContext.Current.CancellationToken);
        }

        await device.PublishAsync("cellar/x", "1.050");

        await Eventually.TrueAsync(() => device.Acknowledged.Count == 1, $"seed {Seed}: the device is still served");
    }

    private static async Task<TcpClient> GreetAsync(int port)
    {
        var client = new TcpClient();
        await client.ConnectAsync(IPAddress.Loopback, port, TestContext.Current.CancellationToken);
        await client.GetStream().WriteAsync(RawPackets.Connect("stranger", 4, cleanStart: true), TestContext.Current.CancellationToken);
        Assert.NotNull(await RawPackets.ReadAsync(client.GetStream(), TestContext.Current.CancellationToken));
        return client;
    }

    private static async Task<bool> EndsAsync(TcpClient client)
    {
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        limit.CancelAfter(Eventually.Deadline);
        try
        {
            return await client.GetStream().ReadAsync(new byte[1], limit.Token) == 0;
        }
        catch (IOException)
        {
            return true;
        }
    }
}
