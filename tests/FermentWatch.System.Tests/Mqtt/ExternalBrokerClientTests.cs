using FermentWatch.Infrastructure.Mqtt;
using Xunit;

namespace FermentWatch.System.Tests.Mqtt;

public sealed class ExternalBrokerClientTests
{
    [Theory]
    [InlineData(MqttVersionChoice.Version311, "3.1.1", "0")]
    [InlineData(MqttVersionChoice.Version311, "3.1.1", "1")]
    [InlineData(MqttVersionChoice.Version5, "5", "1")]
    [InlineData(MqttVersionChoice.Automatic, "5", "2")]
    public async Task Message_IsRecordedAsItCame(MqttVersionChoice choice, string version, string quality)
    {
        await using var broker = await Mosquitto.StartAsync();
        await using var fixture = await ExternalFixture.ConnectAsync(ExternalFixture.Options(broker.Port) with { Version = choice });

        await Mosquitto.PublishAsync(broker.Port, "-q", quality, "-t", "cellar/x/sg", "-m", "1.052");
        await Mosquitto.PublishAsync(broker.Port, "-q", quality, "-t", "garage/x", "-m", "not ours");

        await fixture.CountsAsync(1);
        var message = Assert.Single(fixture.Probe.Messages);
        Assert.Equal(("cellar/x/sg", "1.052", "external/watch-1"), (message.Topic, InboxProbe.Text(message), message.Session));
        Assert.Equal(quality == "0", message.PacketId == 0);
        Assert.False(message.LastKnown);
        Assert.Equal(version, fixture.Client.Status.ProtocolVersion);
        Assert.Null(fixture.Client.Status.Problem);
    }

    [Theory]
    [InlineData(MqttVersionChoice.Version311)]
    [InlineData(MqttVersionChoice.Version5)]
    public async Task RetainedMessage_IsLastKnownAndALiveOneIsNot(MqttVersionChoice choice)
    {
        await using var broker = await Mosquitto.StartAsync();
        await Mosquitto.PublishAsync(broker.Port, "-r", "-q", "1", "-t", "cellar/x", "-m", "old");
        await using var fixture = await ExternalFixture.ConnectAsync(ExternalFixture.Options(broker.Port) with { Version = choice });
        await fixture.CountsAsync(1);

        await Mosquitto.PublishAsync(broker.Port, "-r", "-q", "1", "-t", "cellar/x", "-m", "new");

        await fixture.CountsAsync(2);
        Assert.Equal([("old", true), ("new", false)], fixture.Probe.Messages.Select(message => (InboxProbe.Text(message), message.LastKnown)));
    }

    [Fact]
    public async Task MessagesWhileAway_AreDeliveredOnReturn()
    {
        await using var broker = await Mosquitto.StartAsync();
        var options = ExternalFixture.Options(broker.Port);
        await using (var before = await ExternalFixture.ConnectAsync(options))
        {
            Assert.False(before.Client.Status.SessionResumed);
        }

        for (var i = 0; i < 20; i++)
        {
            await Mosquitto.PublishAsync(broker.Port, "-q", "1", "-t", "cellar/x", "-m", $"{i}");
        }

        await using var after = await ExternalFixture.ConnectAsync(options);
        await after.CountsAsync(20);
        Assert.Equal(Enumerable.Range(0, 20).Select(i => $"{i}"), after.Probe.Messages.Select(InboxProbe.Text));
        Assert.True(after.Client.Status.SessionResumed);
    }

    [Fact]
    public async Task UnacknowledgedMessages_ComeAgainWithTheSamePacketIdAndTheDuplicateFlag()
    {
        await using var broker = await Mosquitto.StartAsync();
        await using var proxy = new TcpProxy(broker.Port);
        var options = ExternalFixture.Options(proxy.Port);
        await using var fixture = await ExternalFixture.ConnectAsync(options);
        fixture.Probe.CloseGate();
        await Mosquitto.PublishAsync(broker.Port, "-q", "1", "-t", "cellar/x", "-m", "1.050");
        await Eventually.TrueAsync(() => fixture.Probe.Asked == 1, "the message is on its way to disk");

        // The commit ends on a connection that is gone, so that its acknowledgement never leaves.
        proxy.Break();
        fixture.Probe.OpenGate();

        await fixture.CountsAsync(2);
        var messages = fixture.Probe.Messages;
        Assert.Equal([false, true], messages.Select(message => message.Duplicate));
        Assert.Equal(messages[0].PacketId, messages[1].PacketId);
    }

    [Fact]
    public async Task FailedCommit_IsTriedAgainHereAndAcknowledgedOnlyThen()
    {
        await using var broker = await Mosquitto.StartAsync();
        await using var fixture = await ExternalFixture.ConnectAsync(ExternalFixture.Options(broker.Port));
        fixture.Probe.Failing = true;
        for (var i = 0; i < 5; i++)
        {
            await Mosquitto.PublishAsync(broker.Port, "-q", "1", "-t", "cellar/x", "-m", $"{i}");
        }

        await Eventually.TrueAsync(() => fixture.Probe.Failures > 10, "several tries failed");
        Assert.Equal(BrokerProblems.StorageUnavailable, fixture.Client.Status.Problem?.Code);
        Assert.Equal(BrokerConnectionState.Connected, fixture.Client.Status.State);
        Assert.DoesNotContain("Received PUBACK from watch-1 (Mid: 2", broker.Log, StringComparison.Ordinal);
        fixture.Probe.Failing = false;

        await fixture.CountsAsync(5);
        await Eventually.TrueAsync(() => fixture.Client.Status.Problem is null, "the problem is over");
        Assert.All(fixture.Probe.Messages, message => Assert.False(message.Duplicate));
        Assert.Equal(5, fixture.Probe.Messages.Count);
    }

    [Fact]
    public async Task FloodWhileTheStoreFails_KeepsTheConnectionAndLosesNothing()
    {
        await using var broker = await Mosquitto.StartAsync();
        var options = ExternalFixture.Options(broker.Port) with { KeepAlive = TimeSpan.FromSeconds(1), ReceiveMaximum = 16 };
        await using var fixture = await ExternalFixture.ConnectAsync(options);
        fixture.Probe.CloseGate();
        await using var device = new RawPublisher("pail", 5, broker.Port);
        Assert.True(await device.TryConnectAsync());
        for (var i = 0; i < 500; i++)
        {
            await device.PublishAsync("cellar/x", $"{i}");
        }

        await Eventually.TrueAsync(() => device.Acknowledged.Count == 500, "the broker has all of them");

        // Longer than a silent link would be given: our pings go on, though nobody reads the answers.
        var pings = Pings(broker);
        await Eventually.TrueAsync(() => Pings(broker) >= pings + 3 || fixture.Client.Status.State != BrokerConnectionState.Connected, "three more pings");
        Assert.Equal(BrokerConnectionState.Connected, fixture.Client.Status.State);
        fixture.Probe.OpenGate();

        await fixture.CountsAsync(500);
        Assert.Equal(Enumerable.Range(0, 500).Select(i => $"{i}"), fixture.Probe.Messages.Select(InboxProbe.Text));
    }

    [Fact]
    public async Task AnswerToAPing_ConfirmsWhatWasAcknowledgedBefore()
    {
        await using var broker = await Mosquitto.StartAsync();
        await using var fixture = await ExternalFixture.ConnectAsync(ExternalFixture.Options(broker.Port) with { KeepAlive = TimeSpan.FromSeconds(1) });
        await Mosquitto.PublishAsync(broker.Port, "-q", "1", "-t", "cellar/x", "-m", "1");
        await Mosquitto.PublishAsync(broker.Port, "-q", "1", "-t", "cellar/x", "-m", "2");

        await Eventually.TrueAsync(() => fixture.Probe.Confirmed.Any(confirmed => confirmed.Sequence == 2), "the pings confirm");
        var pings = Pings(broker);
        await Eventually.TrueAsync(() => Pings(broker) >= pings + 2, "two more pings");
        Assert.All(fixture.Probe.Confirmed, confirmed => Assert.Equal("external/watch-1", confirmed.Session));
        Assert.True(fixture.Probe.Confirmed.Count <= 2, "a confirmation without news");
    }

    [Fact]
    public async Task Stop_AcknowledgesConfirmsAndSaysGoodbye()
    {
        await using var broker = await Mosquitto.StartAsync();
        await using var fixture = await ExternalFixture.ConnectAsync(ExternalFixture.Options(broker.Port));
        await Mosquitto.PublishAsync(broker.Port, "-q", "1", "-t", "cellar/x", "-m", "1");
        await fixture.CountsAsync(1);

        await fixture.StopAsync();

        Assert.Equal(("external/watch-1", 1L), Assert.Single(fixture.Probe.Confirmed));
        await Eventually.TrueAsync(() => broker.Log.Contains("Received DISCONNECT from watch-1", StringComparison.Ordinal), () => broker.Log);
        Assert.Equal(BrokerConnectionState.Stopped, fixture.Client.Status.State);
    }

    private static int Pings(Mosquitto broker) => broker.Log.Split("Received PINGREQ from watch-1").Length - 1;
}
