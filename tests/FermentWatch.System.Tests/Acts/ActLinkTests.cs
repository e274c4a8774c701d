using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Service.Dashboard.Acts;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.Mqtt;
using FermentWatch.System.Tests.Notifiers;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace FermentWatch.System.Tests.Acts;

/// <summary>What a notice's reader says by a link, without a sign-in.</summary>
public sealed class ActLinkTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task NoticeCarriesThreeLinks_OpeningThemChangesNothingAndSendingTheFormDoesOnce()
    {
        await using var relay = await RelayReceiver.AnsweringAsync(200);
        await using var cellar = await WarmCellar.StartAsync(file => Configure(file, relay.Topic), 24);
        await cellar.SendAsync(130, 130, 24);
        await Eventually.TrueAsync(() => relay.Requests.Count == 1, "no notice came");
        using var maker = await Visitor.FirstMakerAsync(cellar.Service);
        using var body = JsonDocument.Parse(Assert.Single(relay.Requests).Body);
        var acts = body.RootElement.GetProperty("acts").EnumerateArray().ToDictionary(one => one.GetProperty("act").GetString()!, one => one.GetProperty("page").GetString()!);
        Assert.Equal(["on-it", "snooze", "wrong"], acts.Keys.Order());
        Assert.All(acts.Values, address => Assert.StartsWith("https://cellar.example/home/act/", address, StringComparison.Ordinal));

        // Whoever has the link needs no sign-in, where everything else does.
        using var stranger = new Visitor(cellar.Service.Page);
        using var closed = await stranger.GetAsync("alerts");
        Assert.Equal(HttpStatusCode.Redirect, closed.StatusCode);
        var path = acts["snooze"]["https://cellar.example/home/".Length..];
        var before = cellar.Alert;
        for (var i = 0; i < 3; i++)
        {
            using var opened = await stranger.GetAsync(path);
            Assert.Equal(HttpStatusCode.OK, opened.StatusCode);
            Assert.True(opened.Headers.CacheControl?.NoStore);
            var html = await opened.Content.ReadAsStringAsync(Stop);
            Assert.Contains("Snooze 4 h", html, StringComparison.Ordinal);
            Assert.Contains("Sloe wine", html, StringComparison.Ordinal);
        }

        using var looked = await stranger.Client.SendAsync(new HttpRequestMessage(HttpMethod.Head, path), Stop);
        Assert.Equal(HttpStatusCode.OK, looked.StatusCode);
        Assert.Null(cellar.Alert.Snooze);
        Assert.Equal(before.AcknowledgedAt, cellar.Alert.AcknowledgedAt);

        // A form without our token is nobody's.
        using var bare = await stranger.Client.PostAsync(path, new FormUrlEncodedContent([]), Stop);
        Assert.Equal(HttpStatusCode.BadRequest, bare.StatusCode);
        Assert.Null(cellar.Alert.Snooze);

        // The link says one thing, whatever else the form holds.
        using var said = await stranger.SendAsync(path, path, ("act", "wrong"), ("alert", "another"));
        Assert.Equal((HttpStatusCode.Redirect, "/" + path), (said.StatusCode, said.Headers.Location!.ToString()));
        var until = WarmCellar.Start.AddMinutes(130).AddHours(4);
        Assert.Equal((until, null), (cellar.Alert.Snooze!.Until.ToDateTimeOffset(), cellar.Alert.DisputedAt));
        var after = await stranger.Client.GetStringAsync(path, Stop);
        Assert.DoesNotContain("<form", after, StringComparison.Ordinal);

        // Later again: it does not count a second time.
        await cellar.SendAsync(140, 150, 24);
        using var again = await stranger.SendAsync(acts["on-it"]["https://cellar.example/home/".Length..], path);
        Assert.Equal(until, cellar.Alert.Snooze!.Until.ToDateTimeOffset());
    }

    [Fact]
    public async Task LinkThatIsOldChangedOrOfAnotherPurpose_DoesNothing()
    {
        await using var cellar = await WarmCellar.StartAsync(_ => { }, 24);
        var links = cellar.Service.Services.GetRequiredService<ActLinks>();
        var good = links.Token("on-it", cellar.Alert.Thread, TimeSpan.FromMinutes(5));
        var old = links.Token("on-it", cellar.Alert.Thread, TimeSpan.FromSeconds(-1));
        var changed = good[..^10] + (good[^10] == 'A' ? 'B' : 'A') + good[^9..];
        var none = links.Token("delete-everything", cellar.Alert.Thread, TimeSpan.FromMinutes(5));
        using var visitor = new Visitor(cellar.Service.Page);
        foreach (var token in new[] { old, changed, none, "a", good + "A" })
        {
            using var opened = await visitor.GetAsync("act/" + token);
            Assert.Equal(HttpStatusCode.NotFound, opened.StatusCode);
            using var sent = await visitor.SendAsync("act/" + good, "act/" + token);
            Assert.Equal(HttpStatusCode.Redirect, sent.StatusCode);
        }

        Assert.Null(cellar.Alert.AcknowledgedAt);
        using var right = await visitor.SendAsync("act/" + good, "act/" + good);
        Assert.NotNull(cellar.Alert.AcknowledgedAt);
        Assert.Contains("Somebody is on it", await visitor.Client.GetStringAsync("act/" + good, Stop), StringComparison.Ordinal);
    }

    [Fact]
    public async Task LinkOfAnAlertThatIsOver_SaysSo()
    {
        await using var cellar = await WarmCellar.StartAsync(_ => { }, 24);
        var thread = cellar.Alert.Thread;
        var path = "act/" + cellar.Service.Services.GetRequiredService<ActLinks>().Token("wrong", thread, TimeSpan.FromMinutes(5));
        await cellar.SendAsync(130, 300, 20);
        await Eventually.TrueAsync(() => cellar.Alert.Standing is AlertStanding.Cleared, "it is not cleared");
        using var visitor = new Visitor(cellar.Service.Page);

        using var sent = await visitor.SendAsync("work/sloe", path);

        Assert.Equal(HttpStatusCode.Redirect, sent.StatusCode);
        Assert.Null(cellar.Alert.DisputedAt);
        Assert.Contains("over already", await visitor.Client.GetStringAsync(path, Stop), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(null, false)]
    [InlineData("http://localhost:5080/", false)]
    [InlineData("http://192.168.1.5:5080/", true)]
    public async Task WithoutAnAddressThatOthersReach_NoticesCarryNoLinks(string? address, bool carries)
    {
        await using var relay = await RelayReceiver.AnsweringAsync(200);
        await using var cellar = await WarmCellar.StartAsync(
            file =>
            {
                Configure(file, relay.Topic);
                file["Page"]!.AsObject().Remove("BaseUrl");
                if (address is not null)
                {
                    file["Page"]!["BaseUrl"] = address;
                }
            },
            24);
        await cellar.SendAsync(130, 130, 24);
        await Eventually.TrueAsync(() => relay.Requests.Count == 1, "no notice came");
        Assert.Equal(carries, relay.Requests.Single().Body.Contains("/act/", StringComparison.Ordinal));
        Assert.Equal(carries, relay.Requests.Single().Body.Contains("http", StringComparison.Ordinal));
    }

    private static void Configure(JsonObject file, Uri topic)
    {
        file["Relay"] = new JsonObject { ["Url"] = topic.AbsoluteUri };
        file["Page"]!["BaseUrl"] = "https://cellar.example/home";
        file["Page"]!["TrustedProxies"] = "127.0.0.77";
    }
}
