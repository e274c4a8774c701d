using System.Globalization;
using System.Net;
using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.System.Tests.Mqtt;

public sealed class EmbeddedBrokerTests
{
    [Theory]
    [InlineData("mqttv31", "0")]
    [InlineData("mqttv311", "0")]
    [InlineData("mqttv311", "1")]
    [InlineData("mqttv311", "2")]
    [InlineData("mqttv5", "0")]
    [InlineData("mqttv5", "1")]
    [InlineData("mqttv5", "2")]
    public async Task MappedTopic_IsRecordedAsItCame(string version, string quality)
    {
        await using var fixture = await EmbeddedFixture.StartAsync();

        var (exit, complaint) = await Mosquitto.PublishAsync(fixture.Port, "-V", version, "-q", quality, "-i", "pail", "-t", "cellar/pail/sg", "-m", "1.052");

        Assert.True(exit == 0, complaint);
        await Eventually.TrueAsync(() => fixture.Probe.Messages.Count > 0, "the message is recorded");
        var message = Assert.Single(fixture.Probe.Messages);
        Assert.Equal(("cellar/pail/sg", "1.052", 5, "embedded/pail"), (message.Topic, InboxProbe.Text(message), message.Size, message.Session));
        Assert.Equal(quality == "0", message.PacketId == 0);
        Assert.False(message.Duplicate);
        Assert.False(message.LastKnown);
    }

    [Theory]
    [InlineData("mqttv311")]
    [InlineData("mqttv5")]
    public async Task DeviceWithoutName_IsNamedAndServed(string version)
    {
        await using var fixture = await EmbeddedFixture.StartAsync();

        var (exit, complaint) = await Mosquitto.PublishAsync(fixture.Port, "-V", version, "-q", "1", "-t", "cellar/x", "-m", "20.5");

        Assert.True(exit == 0, complaint);
        Assert.StartsWith("embedded/unnamed-", Assert.Single(fixture.Probe.Messages).Session, StringComparison.Ordinal);
    }

    [Fact]
    public async Task LivePublishWithRetainFlag_IsAReading()
    {
        await using var fixture = await EmbeddedFixture.StartAsync();

        await Mosquitto.PublishAsync(fixture.Port, "-r", "-q", "1", "-t", "cellar/x", "-m", "20.5");

        Assert.False(Assert.Single(fixture.Probe.Messages).LastKnown);
    }

    [Theory]
    [InlineData(4)]
    [InlineData(5)]
    public async Task Acknowledgement_ComesOnlyAfterTheCommit(int version)
    {
        await using var fixture = await EmbeddedFixture.StartAsync();
        await using var device = new RawPublisher("pail", version, fixture.Port);
        Assert.True(await device.TryConnectAsync());
        fixture.Probe.CloseGate();

        await device.PublishAsync("cellar/x", "1.050");
        await device.PublishAsync("elsewhere", "behind it");
        await using var other = new RawPublisher("other", version, fixture.Port);
        Assert.True(await other.TryConnectAsync());
        await other.PublishAsync("elsewhere", "a later message that needs no commit");
        await Eventually.TrueAsync(() => fixture.Probe.Asked == 1 && other.Acknowledged.Count == 1, "the broker works on the first and has answered a later one");
        Assert.Empty(device.Acknowledged);
        fixture.Probe.OpenGate();

        await Eventually.TrueAsync(() => device.Acknowledged.Count == 2, "both are acknowledged after the commit");
    }

    [Theory]
    [InlineData(4)]
    [InlineData(5)]
    public async Task FailedCommit_ClosesWithoutAcknowledgementAndTheRedeliveryIsRecorded(int version)
    {
        await using var fixture = await EmbeddedFixture.StartAsync();
        await using var device = new RawPublisher("pail", version, fixture.Port);
        Assert.True(await device.TryConnectAsync());
        fixture.Probe.Failing = true;

        await device.PublishAsync("cellar/x", "1.050");
        await Eventually.TrueAsync(() => !device.Connected, "the broker closes the connection");
        Assert.Empty(device.Acknowledged);
        Assert.Equal(BrokerProblems.StorageUnavailable, fixture.Broker.Status.Problem?.Code);

        fixture.Probe.Failing = false;
        Assert.True(await device.TryConnectAsync());
        await Eventually.TrueAsync(() => device.Acknowledged.Count == 1, "the redelivery is acknowledged");
        var message = Assert.Single(fixture.Probe.Messages);
        Assert.Equal((true, (ushort)1), (message.Duplicate, message.PacketId));
        Assert.Null(fixture.Broker.Status.Problem);
        Assert.Equal(1, fixture.Broker.Status.NotRecorded);
    }

    [Fact]
    public async Task FailedCommitOfQualityZero_KeepsTheConnection()
    {
        await using var fixture = await EmbeddedFixture.StartAsync();
        fixture.Probe.Failing = true;

        var (exit, _) = await Mosquitto.PublishAsync(fixture.Port, "-q", "0", "-t", "cellar/x", "-m", "1");

        Assert.Equal(0, exit);
        await Eventually.TrueAsync(() => fixture.Broker.Status.NotRecorded == 1, "the loss is counted");
    }

    [Fact]
    public async Task LongPayload_KeepsItsHeadAndSize()
    {
        await using var fixture = await EmbeddedFixture.StartAsync();
        await using var device = new RawPublisher("pail", 4, fixture.Port);
        Assert.True(await device.TryConnectAsync());

        await device.PublishAsync("cellar/a", new string('a', 8192));
        await device.PublishAsync("cellar/b", new string('b', 8193));

        await Eventually.TrueAsync(() => device.Acknowledged.Count == 2, "both are acknowledged");
        Assert.Equal([(8192, 8192), (256, 8193)], fixture.Probe.Messages.Select(message => (message.Payload.Length, message.Size)));
    }

    [Fact]
    public async Task UnmappedTopics_AreCountedAndTheListStaysShort()
    {
        await using var fixture = await EmbeddedFixture.StartAsync();
        await using var device = new RawPublisher("flood", 4, fixture.Port);
        Assert.True(await device.TryConnectAsync());
        await device.PublishAsync("garage/sensor", "first");
        await device.PublishAsync("garage/sensor", "second");

        for (var i = 0; i < 1000; i++)
        {
            await device.PublishAsync(string.Create(CultureInfo.InvariantCulture, $"flood/{i}"), "x");
        }

        await Eventually.TrueAsync(() => device.Acknowledged.Count == 1002, "all are acknowledged");
        Assert.Empty(fixture.Probe.Messages);
        Assert.Equal(1002, fixture.Broker.Unmapped.Messages);
        var list = fixture.Broker.Unmapped.Snapshot(ReceivedAt.From(DateTimeOffset.UtcNow));
        Assert.Equal(UnmappedTopics.Capacity, list.Count);
        Assert.Equal(2, Assert.Single(list, topic => topic.Topic == "garage/sensor").Count);
    }

    [Fact]
    public async Task Goodbye_ConfirmsWhatWasAcknowledged()
    {
        await using var fixture = await EmbeddedFixture.StartAsync();
        await using var device = new RawPublisher("pail", 4, fixture.Port);
        Assert.True(await device.TryConnectAsync());
        await device.PublishAsync("cellar/x", "1");
        await device.PublishAsync("cellar/x", "2");
        await Eventually.TrueAsync(() => device.Acknowledged.Count == 2, "both are acknowledged");
        Assert.Empty(fixture.Probe.Confirmed);

        await device.DisconnectAsync();

        await Eventually.TrueAsync(() => fixture.Probe.Confirmed.Count > 0, "the goodbye is passed on");
        Assert.Equal(("embedded/pail", 2L), Assert.Single(fixture.Probe.Confirmed));
        await Eventually.TrueAsync(() => fixture.Broker.OpenLedgers == 0, "nothing is kept of a closed connection");
    }

    [Fact]
    public async Task DroppedConnection_ConfirmsNothing()
    {
        await using var fixture = await EmbeddedFixture.StartAsync();
        await using var device = new RawPublisher("pail", 4, fixture.Port);
        Assert.True(await device.TryConnectAsync());
        await device.PublishAsync("cellar/x", "1");
        await Eventually.TrueAsync(() => device.Acknowledged.Count == 1, "acknowledged");

        await device.CloseAsync();

        await Eventually.TrueAsync(() => fixture.Broker.OpenLedgers == 0 && fixture.Broker.Status.Clients == 0, "the broker noticed");
        Assert.Empty(fixture.Probe.Confirmed);
    }

    [Fact]
    public async Task PortInUse_SaysWhereAndWhatWouldBeRight()
    {
        await using var first = await EmbeddedFixture.StartAsync();
        await using var second = new EmbeddedBroker(
            new EmbeddedBrokerOptions { Port = first.Port }, InboxProbe.Interest("a"), first.Probe.RecordAsync, first.Probe.ConfirmAsync, TimeProvider.System,
            Microsoft.Extensions.Logging.Abstractions.NullLogger.Instance);

        var error = await Assert.ThrowsAsync<BrokerStartException>(() => second.StartAsync(TestContext.Current.CancellationToken));

        Assert.Contains($"address 127.0.0.1, port {first.Port}", error.Message, StringComparison.Ordinal);
        Assert.Contains("external broker", error.Message, StringComparison.Ordinal);
        Assert.Contains("another port", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task ForeignAddress_SaysWhatWouldBeRight()
    {
        // 192.0.2.1 is set aside for documentation (RFC 5737) and belongs to no machine.
        var error = await Assert.ThrowsAsync<BrokerStartException>(() => EmbeddedFixture.StartAsync(new EmbeddedBrokerOptions { Address = IPAddress.Parse("192.0.2.1") }));

        Assert.Contains("192.0.2.1 is not an address of this machine", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task WrongPassword_IsRefusedAndTheRightOneServed()
    {
        await using var fixture = await EmbeddedFixture.StartAsync(new EmbeddedBrokerOptions { UserName = "maker", Password = "must and honey" });

        var none = await Mosquitto.PublishAsync(fixture.Port, "-q", "1", "-t", "cellar/x", "-m", "1");
        var wrong = await Mosquitto.PublishAsync(fixture.Port, "-u", "maker", "-P", "guess", "-q", "1", "-t", "cellar/x", "-m", "2");
        var right = await Mosquitto.PublishAsync(fixture.Port, "-u", "maker", "-P", "must and honey", "-q", "1", "-t", "cellar/x", "-m", "3");

        Assert.NotEqual(0, none.ExitCode);
        Assert.NotEqual(0, wrong.ExitCode);
        Assert.Equal(0, right.ExitCode);
        Assert.Equal("3", InboxProbe.Text(Assert.Single(fixture.Probe.Messages)));
    }

    [Fact]
    public async Task MoreClientsThanAllowed_AreToldThatTheBrokerIsBusy()
    {
        await using var fixture = await EmbeddedFixture.StartAsync(new EmbeddedBrokerOptions { MaximumClients = 1 });
        await using var first = new RawPublisher("one", 5, fixture.Port);
        await using var second = new RawPublisher("two", 5, fixture.Port);

        Assert.True(await first.TryConnectAsync());
        Assert.False(await second.TryConnectAsync());
        await first.DisconnectAsync();
        await Eventually.TrueAsync(() => fixture.Broker.Status.Clients == 0, "the first has left");
        Assert.True(await second.TryConnectAsync());
    }
}
