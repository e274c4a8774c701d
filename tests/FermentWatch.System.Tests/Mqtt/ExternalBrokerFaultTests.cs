using System.Net;
using System.Net.Sockets;
using FermentWatch.Infrastructure.Mqtt;
using MQTTnet.Protocol;
using MQTTnet.Server;
using Xunit;

namespace FermentWatch.System.Tests.Mqtt;

public sealed class ExternalBrokerFaultTests
{
    [Fact]
    public async Task UnknownName_IsSaid()
    {
        // The top-level domain .invalid never resolves (RFC 2606).
        await using var fixture = ExternalFixture.Start(ExternalFixture.Options(1) with { Host = "broker.invalid" });

        await fixture.ComesToAsync(BrokerConnectionState.WaitingToReconnect, BrokerProblems.NameNotFound);
        Assert.Equal("broker.invalid", fixture.ProblemValues[0]);
    }

    [Fact]
    public async Task ClosedPort_IsSaid()
    {
        await using var fixture = ExternalFixture.Start(ExternalFixture.Options(FreePort.Take()));

        await fixture.ComesToAsync(BrokerConnectionState.WaitingToReconnect, BrokerProblems.ConnectionRefused);
    }

    [Fact]
    public async Task PortThatNeverAnswers_IsSaid()
    {
        using var mute = new TcpListener(IPAddress.Loopback, 0);
        mute.Start();
        var options = ExternalFixture.Options(((IPEndPoint)mute.LocalEndpoint).Port) with { StepTimeout = TimeSpan.FromMilliseconds(300) };
        await using var fixture = ExternalFixture.Start(options);

        await fixture.ComesToAsync(BrokerConnectionState.WaitingToReconnect, BrokerProblems.NoAnswer);
    }

    [Theory]
    [InlineData(MqttVersionChoice.Version311)]
    [InlineData(MqttVersionChoice.Version5)]
    public async Task WrongPassword_IsRefusedAndTheRightOneConnects(MqttVersionChoice choice)
    {
        await using var broker = await Mosquitto.StartAsync(
            persistence: false,
            folder =>
            {
                Mosquitto.WritePassword(Path.Combine(folder, "passwords"), "maker", "must");
                return [];
            },
            "allow_anonymous false",
            "password_file {folder}/passwords");
        var options = ExternalFixture.Options(broker.Port) with { Version = choice, UserName = "maker", Password = "guess" };
        await using var wrong = ExternalFixture.Start(options);
        await wrong.ComesToAsync(BrokerConnectionState.Refused);
        var code = wrong.Client.Status.Problem?.Code;
        Assert.True(code is BrokerProblems.Credentials or BrokerProblems.NotAuthorized, code);
        Assert.Equal("maker", wrong.ProblemValues[0]);

        await using var right = await ExternalFixture.ConnectAsync(options with { ClientId = "watch-2", Password = "must" });
    }

    [Theory]
    [InlineData(MqttVersionChoice.Version311)]
    [InlineData(MqttVersionChoice.Version5)]
    public async Task RefusedFilter_IsNamed(MqttVersionChoice choice)
    {
        // mosquitto grants every filter and then keeps messages back, so here the library's server plays the broker.
        var port = FreePort.Take();
        var factory = new MqttServerFactory();
        using var broker = factory.CreateMqttServer(
            factory.CreateServerOptionsBuilder().WithDefaultEndpoint().WithDefaultEndpointBoundIPAddress(IPAddress.Loopback).WithDefaultEndpointPort(port).Build());
        broker.InterceptingSubscriptionAsync += args =>
        {
            if (args.TopicFilter.Topic == "cellar/x")
            {
                args.ProcessSubscription = false;
                args.Response.ReasonCode = MqttSubscribeReasonCode.NotAuthorized;
            }

            return Task.CompletedTask;
        };
        await broker.StartAsync();
        await using var fixture = ExternalFixture.Start(ExternalFixture.Options(port) with { Version = choice }, null, "garage/x", "cellar/x");

        await fixture.ComesToAsync(BrokerConnectionState.Refused, BrokerProblems.SubscriptionRefused);
        Assert.Equal("cellar/x", fixture.ProblemValues[0]);
    }

    [Fact]
    public async Task EchoThatDoesNotComeBack_IsSaid()
    {
        await using var broker = await Mosquitto.StartAsync(
            persistence: false,
            folder =>
            {
                File.WriteAllText(Path.Combine(folder, "rights"), "topic read #\n");
                return [];
            },
            "allow_anonymous true",
            "acl_file {folder}/rights");
        await using var fixture = ExternalFixture.Start(ExternalFixture.Options(broker.Port) with { StepTimeout = TimeSpan.FromMilliseconds(500) });

        await fixture.ComesToAsync(BrokerConnectionState.Refused, BrokerProblems.EchoMissing);
        Assert.Equal("fermentwatch/watch-1/echo", fixture.ProblemValues[0]);
    }

    [Fact]
    public async Task BrokerThatKnowsOnly311_IsServedInThatVersion()
    {
        await using var broker = await Mosquitto.StartAsync();
        await using var proxy = new TcpProxy(broker.Port) { KnowsOnlyVersion311 = true };
        await using var fixture = await ExternalFixture.ConnectAsync(ExternalFixture.Options(proxy.Port));

        Assert.Equal("3.1.1", fixture.Client.Status.ProtocolVersion);
    }

    [Fact]
    public async Task KilledBroker_IsFoundAgainEvenWithItsSessionsLost()
    {
        await using var broker = await Mosquitto.StartAsync(persistence: false, _ => [], "allow_anonymous true");
        await using var fixture = await ExternalFixture.ConnectAsync(ExternalFixture.Options(broker.Port));

        broker.Kill();
        await fixture.ComesToAsync(BrokerConnectionState.WaitingToReconnect);
        await broker.StartAgainAsync();
        await fixture.ComesToAsync(BrokerConnectionState.Connected);

        Assert.False(fixture.Client.Status.SessionResumed);
        await Mosquitto.PublishAsync(broker.Port, "-q", "1", "-t", "cellar/x", "-m", "after");
        await fixture.CountsAsync(1);
    }

    [Fact]
    public async Task HalfOpenLink_IsNoticedAndReplaced()
    {
        await using var broker = await Mosquitto.StartAsync();
        await using var proxy = new TcpProxy(broker.Port);
        await using var fixture = await ExternalFixture.ConnectAsync(ExternalFixture.Options(proxy.Port) with { KeepAlive = TimeSpan.FromSeconds(1), StepTimeout = TimeSpan.FromSeconds(1) });

        proxy.Silent = true;
        await Eventually.TrueAsync(() => fixture.Client.Status.State != BrokerConnectionState.Connected, "the silence is noticed");
        proxy.Silent = false;
        await fixture.ComesToAsync(BrokerConnectionState.Connected);

        await Mosquitto.PublishAsync(broker.Port, "-q", "1", "-t", "cellar/x", "-m", "after");
        await fixture.CountsAsync(1);
    }

    [Fact]
    public async Task SecondClientWithOurId_MakesUsGiveWayAndSaySo()
    {
        await using var broker = await Mosquitto.StartAsync();
        await using var fixture = await ExternalFixture.ConnectAsync(ExternalFixture.Options(broker.Port) with { Version = MqttVersionChoice.Version5 });
        await using var rival = new RawPublisher("watch-1", 5, broker.Port);

        await Eventually.TrueAsync(
            () =>
            {
                if (!rival.Connected)
                {
                    rival.TryConnectAsync().GetAwaiter().GetResult();
                }

                return fixture.Client.Status is { State: BrokerConnectionState.Refused, Problem.Code: BrokerProblems.ClientIdTaken };
            },
            () => fixture.Client.Status.ToString());
    }
}
