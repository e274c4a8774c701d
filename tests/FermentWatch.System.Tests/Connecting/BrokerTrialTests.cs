using System.Net;
using System.Net.Sockets;
using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.System.Tests.Mqtt;
using MQTTnet.Protocol;
using MQTTnet.Server;
using Xunit;

namespace FermentWatch.System.Tests.Connecting;

/// <summary>A broker is tried with all that the kept connection needs; each fault has its own name. The brokers are mosquitto unless said otherwise.</summary>
public sealed class BrokerTrialTests
{
    private static readonly TimeSpan Step = TimeSpan.FromSeconds(60);

    // Long enough for a slow machine: a message ends the wait, and only the silent broker lets it pass.
    private static readonly TimeSpan Patient = TimeSpan.FromSeconds(60);

    [Fact]
    public async Task NameThatDoesNotExist_IsSaid()
    {
        // The top-level domain .invalid never resolves (RFC 2606).
        var result = await TryAsync(Options(1) with { Host = "broker.invalid" });

        Assert.Equal((BrokerProblems.NameNotFound, "broker.invalid"), (result.Problem?.Code, NameIn(result)));
    }

    [Fact]
    public async Task ClosedPort_IsSaid() => Assert.Equal(BrokerProblems.ConnectionRefused, (await TryAsync(Options(FreePort.Take()))).Problem?.Code);

    [Fact]
    public async Task PortThatNeverAnswers_IsSaidAfterOneStep()
    {
        using var mute = new TcpListener(IPAddress.Loopback, 0);
        mute.Start();

        var result = await TryAsync(Options(((IPEndPoint)mute.LocalEndpoint).Port) with { StepTimeout = TimeSpan.FromMilliseconds(300) });

        Assert.Equal(BrokerProblems.NoAnswer, result.Problem?.Code);
    }

    [Fact]
    public async Task PasswordFile_RefusesAWrongPasswordAndNoneAndTakesTheRightOne()
    {
        await using var broker = await Mosquitto.StartAsync(
            persistence: false,
            folder =>
            {
                Mosquitto.WritePassword(Path.Combine(folder, "people"), "maker", "must");
                return [];
            },
            "allow_anonymous false",
            "password_file {folder}/people");

        var wrong = await TryAsync(Options(broker.Port) with { UserName = "maker", Password = "lees" });
        var none = await TryAsync(Options(broker.Port));
        await using var talker = new Talker(broker.Port, "-u", "maker", "-P", "must");
        var right = await TryAsync(Options(broker.Port) with { UserName = "maker", Password = "must" });

        // mosquitto says 'not authorized' to both (MQTT 5 reason 0x87).
        Assert.Equal((BrokerProblems.NotAuthorized, "maker"), (wrong.Problem?.Code, NameIn(wrong)));
        Assert.Equal((BrokerProblems.NotAuthorized, ""), (none.Problem?.Code, NameIn(none)));
        Assert.Null(right.Problem);
        Assert.True(right.Heard > 0);
    }

    [Theory]
    [InlineData("topic read #", BrokerProblems.PublishRefused)]
    [InlineData("topic write #", BrokerProblems.NothingPassedOn)]
    [InlineData("topic readwrite cellar/#", BrokerProblems.PublishRefused)]
    public async Task AccessRulesThatDoNotLetUsHearOurselves_AreSaid(string rule, string problem)
    {
        await using var broker = await WithRulesAsync(rule);

        var result = await TryAsync(Options(broker.Port) with { StepTimeout = TimeSpan.FromSeconds(2) });

        Assert.Equal((problem, "fermentwatch/watch/echo"), (result.Problem?.Code, NameIn(result)));
    }

    [Fact]
    public async Task AccessRulesThatAreEnough_PassTheTrial()
    {
        await using var broker = await WithRulesAsync("topic readwrite fermentwatch/#", "topic readwrite cellar/#");
        await using var talker = new Talker(broker.Port);

        var result = await TryAsync(Options(broker.Port));

        Assert.Null(result.Problem);
        Assert.True(result.Heard > 0);
    }

    [Fact]
    public async Task RefusedSubscription_IsNamed()
    {
        // mosquitto grants every filter and then keeps messages back, so here the library's server plays the broker.
        var port = FreePort.Take();
        var factory = new MqttServerFactory();
        using var broker = factory.CreateMqttServer(
            factory.CreateServerOptionsBuilder().WithDefaultEndpoint().WithDefaultEndpointBoundIPAddress(IPAddress.Loopback).WithDefaultEndpointPort(port).Build());
        broker.InterceptingSubscriptionAsync += args =>
        {
            args.ProcessSubscription = args.TopicFilter.Topic != "#";
            args.Response.ReasonCode = args.ProcessSubscription ? MqttSubscribeReasonCode.GrantedQoS0 : MqttSubscribeReasonCode.NotAuthorized;
            return Task.CompletedTask;
        };
        await broker.StartAsync();

        var result = await TryAsync(Options(port));

        Assert.Equal((BrokerProblems.SubscriptionRefused, "#"), (result.Problem?.Code, NameIn(result)));
    }

    [Fact]
    public async Task PrivateAuthority_IsTrustedOnlyWhenItsCertificateIsGiven()
    {
        using var authority = new TestAuthority();
        var pem = "";
        await using var broker = await Mosquitto.StartAsync(
            persistence: false,
            folder =>
            {
                var lines = authority.WriteFiles(folder);
                pem = File.ReadAllText(Path.Combine(folder, "ca.pem"));
                return lines;
            },
            "allow_anonymous true");
        var options = Options(broker.Port) with { UseTls = true };

        var without = await TryAsync(options);
        var plain = await TryAsync(Options(broker.Port));
        var with = await BrokerTrial.RunAsync(options with { AuthorityText = pem }, "watch", "#", TimeSpan.FromMilliseconds(50), TimeProvider.System, Stop);

        Assert.Equal(BrokerProblems.CertificateUntrusted, without.Problem?.Code);
        Assert.Equal(BrokerProblems.NotMqtt, plain.Problem?.Code);
        Assert.Null(with.Problem);
    }

    [Fact]
    public async Task PortWithoutTls_IsSaid()
    {
        await using var broker = await Mosquitto.StartAsync();

        Assert.Equal(BrokerProblems.TlsFailed, (await TryAsync(Options(broker.Port) with { UseTls = true })).Problem?.Code);
    }

    [Fact]
    public async Task SilentBroker_IsNoProblemAndLeavesNothingBehind()
    {
        await using var broker = await Mosquitto.StartAsync();

        var result = await BrokerTrial.RunAsync(Options(broker.Port), "watch", "#", TimeSpan.FromMilliseconds(200), TimeProvider.System, Stop);

        Assert.Equal((null, 0), (result.Problem, result.Heard));
        // A timer may end up to a millisecond before its time.
        Assert.True(result.Listened >= TimeSpan.FromMilliseconds(199), $"{result.Listened}");
        Assert.Contains("watch-trial (p5, c1", broker.Log, StringComparison.Ordinal);
    }

    [Fact]
    public async Task BrokerThatKnowsOnly311_PassesInThatVersion()
    {
        await using var broker = await Mosquitto.StartAsync();
        await using var proxy = new TcpProxy(broker.Port) { KnowsOnlyVersion311 = true };
        await using var talker = new Talker(broker.Port);

        var result = await TryAsync(Options(proxy.Port));

        Assert.Null(result.Problem);
        Assert.Contains("watch-trial (p2, c1", broker.Log, StringComparison.Ordinal);
    }

    [Fact]
    public void Options_DoNotSpellOutThePassword() =>
        Assert.DoesNotContain("must", (Options(1) with { UserName = "maker", Password = "must" }).ToString(), StringComparison.Ordinal);

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    private static string? NameIn(BrokerTrialResult result) => (result.Problem?.Values[0] as ReasonValue.Name)?.Text;

    private static ExternalBrokerOptions Options(int port) => new() { Host = "127.0.0.1", Port = port, ClientId = "watch-trial", StepTimeout = Step };

    private static Task<BrokerTrialResult> TryAsync(ExternalBrokerOptions options) => BrokerTrial.RunAsync(options, "watch", "#", Patient, TimeProvider.System, Stop);

    private static Task<Mosquitto> WithRulesAsync(params string[] rules) => Mosquitto.StartAsync(
        persistence: false,
        folder =>
        {
            File.WriteAllLines(Path.Combine(folder, "rights"), rules);
            return [];
        },
        "allow_anonymous true",
        "acl_file {folder}/rights");
}
