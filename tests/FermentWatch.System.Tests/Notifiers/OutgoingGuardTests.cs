using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;
using Xunit;

namespace FermentWatch.System.Tests.Notifiers;

/// <summary>Requests go where the owner lets them, by the address that the name had when it was asked for once.</summary>
public sealed class OutgoingGuardTests
{
    private static readonly NoticeMessage Notice = new("a", "A title", "A text.", Severity.Warning, Silent: false, Link: null);
    private static readonly OutgoingRules Public = new();
    private static readonly OutgoingRules Home = new() { Networks = ValueList.Of(IPNetwork.Parse("192.168.1.0/24"), IPNetwork.Parse("fd00:77::/32")) };

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    // RFC 6890 and its registries: loopback, unspecified, link-local, reserved, multicast; RFC 1918, 4193, 6598 private; RFC 6052 and 3056 stand for IPv4.
    [Theory]
    [InlineData("127.8.8.8", ForbiddenPlace.ThisMachine)]
    [InlineData("0.0.0.0", ForbiddenPlace.ThisMachine)]
    [InlineData("0.1.2.3", ForbiddenPlace.ThisMachine)]
    [InlineData("::1", ForbiddenPlace.ThisMachine)]
    [InlineData("::", ForbiddenPlace.ThisMachine)]
    [InlineData("::ffff:127.0.0.1", ForbiddenPlace.ThisMachine)]
    [InlineData("64:ff9b::7f00:1", ForbiddenPlace.ThisMachine)]
    [InlineData("2002:7f00:1::", ForbiddenPlace.ThisMachine)]
    [InlineData("203.0.113.77", ForbiddenPlace.ThisMachine)]
    [InlineData("169.254.169.254", ForbiddenPlace.Link)]
    [InlineData("::ffff:169.254.169.254", ForbiddenPlace.Link)]
    [InlineData("64:ff9b::a9fe:a9fe", ForbiddenPlace.Link)]
    [InlineData("224.0.0.1", ForbiddenPlace.Link)]
    [InlineData("255.255.255.255", ForbiddenPlace.Link)]
    [InlineData("fe80::1", ForbiddenPlace.Link)]
    [InlineData("fe80::1%1", ForbiddenPlace.Link)]
    [InlineData("ff02::1", ForbiddenPlace.Link)]
    [InlineData("10.1.2.3", ForbiddenPlace.Private)]
    [InlineData("172.31.255.255", ForbiddenPlace.Private)]
    [InlineData("192.168.2.1", ForbiddenPlace.Private)]
    [InlineData("100.64.0.1", ForbiddenPlace.Private)]
    [InlineData("fd12::1", ForbiddenPlace.Private)]
    [InlineData("64:ff9b::0a01:0203", ForbiddenPlace.Private)]
    [InlineData("192.168.1.7", null)]
    [InlineData("fd00:77::1", null)]
    [InlineData("172.32.0.1", null)]
    [InlineData("203.0.113.5", null)]
    [InlineData("2001:db8::5", null)]
    public void Address_IsForbiddenByWhereItLeads(string address, ForbiddenPlace? expected)
    {
        var own = new HashSet<IPAddress> { IPAddress.Parse("203.0.113.77") };
        Assert.Equal(expected, OutgoingGuard.PlaceOf(IPAddress.Parse(address), 443, Home, own));
    }

    [Fact]
    public async Task OwnPort_IsForbiddenEvenWhereThisMachineIsAllowed()
    {
        await using var relay = await RelayReceiver.AnsweringAsync(200);
        var here = new OutgoingRules { ThisMachine = true };

        Assert.IsType<DeliveryResult.Delivered>(await DeliverAsync(relay.Topic, here));
        AssertForbidden("outgoing-own-port", await DeliverAsync(relay.Topic, here with { OwnPorts = () => [relay.Topic.Port] }));

        Assert.Single(relay.Requests);
    }

    [Fact]
    public async Task AddressOfAnInterfaceOfOurs_IsThisMachineWhateverItsNetwork()
    {
        var mine = NetworkInterface.GetAllNetworkInterfaces().SelectMany(one => one.GetIPProperties().UnicastAddresses).Select(one => one.Address)
            .Where(one => one.AddressFamily == AddressFamily.InterNetwork).ToList();
        Assert.NotEmpty(mine);
        var wide = new OutgoingRules { Networks = ValueList.Of<IPNetwork>(OutgoingRules.PrivateNetworks) };
        foreach (var address in mine)
        {
            AssertForbidden("outgoing-this-machine", await DeliverAsync(new Uri($"http://{address}:9/"), wide));
        }
    }

    [Theory]
    [InlineData("127.0.0.1", "outgoing-this-machine")]
    [InlineData("::1", "outgoing-this-machine")]
    [InlineData("169.254.169.254", "outgoing-link")]
    [InlineData("10.0.0.1", "outgoing-private")]
    public async Task NameThatAlsoLeadsToAForbiddenAddress_IsNotConnectedTo(string forbidden, string code)
    {
        await using var relay = await RelayReceiver.AnsweringAsync(200);
        var asked = 0;
        var rules = Public with
        {
            Resolve = (name, _) =>
            {
                asked++;
                Assert.Equal("relay.example", name);
                return Task.FromResult<IPAddress[]>([IPAddress.Parse("203.0.113.5"), IPAddress.Parse(forbidden)]);
            },
        };

        AssertForbidden(code, await DeliverAsync(new Uri($"http://relay.example:{relay.Topic.Port}/t"), rules));

        Assert.Equal(1, asked);
        Assert.Empty(relay.Requests);
    }

    [Fact]
    public async Task NameWhoseSecondAnswerIsForbidden_IsReachedByTheFirst()
    {
        await using var relay = await RelayReceiver.AnsweringAsync(200);
        var answers = new Queue<string>(["127.0.0.1", "169.254.1.1"]);
        var rules = new OutgoingRules { ThisMachine = true, Resolve = (_, _) => Task.FromResult<IPAddress[]>([IPAddress.Parse(answers.Dequeue())]) };

        Assert.IsType<DeliveryResult.Delivered>(await DeliverAsync(new Uri($"http://relay.example:{relay.Topic.Port}/t"), rules));

        Assert.Single(answers);
        Assert.Single(relay.Requests);
    }

    [Theory]
    [InlineData("private, this-machine", 5, true)]
    [InlineData("192.168.1.0/24,10.1.2.3", 2, false)]
    [InlineData("this-machine", 0, true)]
    public void Setting_NamesPlaces(string text, int networks, bool thisMachine)
    {
        var read = OutgoingCatalog.Places.Read(text);
        Assert.True(read.Ok, read.Because);
        Assert.Equal((networks, thisMachine), (read.Value!.Networks.Count, read.Value.ThisMachine));
    }

    [Theory]
    [InlineData("")]
    [InlineData("everything")]
    [InlineData("127.0.0.0/8")]
    [InlineData("169.254.0.0/16")]
    [InlineData("8.8.8.8")]
    [InlineData("10.0.0.0/7")]
    [InlineData("private,192.168.1.1/33")]
    public void Setting_TakesNothingElse(string text) => Assert.False(OutgoingCatalog.Places.Read(text).Ok);

    private static void AssertForbidden(string code, DeliveryResult result) => Assert.Equal(code, Assert.IsType<DeliveryResult.TryAgain>(result).Because.Code);

    private static async Task<DeliveryResult> DeliverAsync(Uri topic, OutgoingRules rules)
    {
        using var notifier = new RelayNotifier(new RelaySettings { Url = topic, AnswerWithin = TimeSpan.FromSeconds(30) }, rules, TimeProvider.System);
        return await notifier.DeliverAsync(Notice, Stop);
    }
}
