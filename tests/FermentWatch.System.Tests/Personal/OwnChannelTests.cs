using System.Net;
using System.Text;
using System.Text.Json.Nodes;
using FermentWatch.Service.Personal;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Mqtt;
using FermentWatch.System.Tests.Mqtt.Killing;
using FermentWatch.System.Tests.Notifiers;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace FermentWatch.System.Tests.Personal;

/// <summary>People set up their own channels: real relays, a real mail server, and nothing secret anywhere else.</summary>
public sealed class OwnChannelTests
{
    private const string Page = "account/notices";
    private const string Token = "tk-very-hidden-81525";
    private const string Topic = "hidden-topic-9917";

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task RelayWithTopicAndToken_TestArrivesThereAndThePageSaysSo()
    {
        await using var relay = await RelayReceiver.AnsweringAsync(200);
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        await KeepRelayAsync(maker, relay);
        using var sent = await maker.SendAsync(Page, Page, ("do", "test"), ("kind", "relay"));
        var request = Assert.Single(relay.Requests);
        Assert.Equal(("/deep/" + Topic, "Bearer " + Token), (request.Path, request.Authorization));
        var html = await maker.Client.GetStringAsync(Page, Stop);
        Assert.Contains("the channel took it", html, StringComparison.Ordinal);
        Assert.Contains(relay.Topic.Authority, html, StringComparison.Ordinal);
        Assert.Contains("Own notices by: Push relay", await maker.Client.GetStringAsync("people", Stop), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(403, "A notice would be given up")]
    [InlineData(429, "A notice would be tried again")]
    [InlineData(302, "A notice would be tried again")]
    public async Task RelayThatRefuses_ThePageSaysWhatItAnswered(int status, string consequence)
    {
        await using var relay = await RelayReceiver.AnsweringAsync(status);
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        await KeepRelayAsync(maker, relay);
        using var sent = await maker.SendAsync(Page, Page, ("do", "test"), ("kind", "relay"));
        var html = await maker.Client.GetStringAsync(Page, Stop);
        Assert.Contains($"{status}", html, StringComparison.Ordinal);
        Assert.Contains(consequence, html, StringComparison.Ordinal);
    }

    [Fact]
    public async Task OwnAddress_LetterGoesToItThroughTheHousesServer()
    {
        await using var sink = await MailSink.StartAsync();
        await using var service = await RunningService.StartAsync(file => file["Mail"] = MailAt(sink.Port));
        using var maker = await Visitor.FirstMakerAsync(service);
        using var viewer = await maker.InviteAsync(service, "Vic", "viewer");
        using (var wrong = await viewer.SendAsync(Page, Page, ("do", "channel"), ("kind", "mail"), ("mail-address", "vic at home")))
        {
            Assert.Equal(HttpStatusCode.UnprocessableEntity, wrong.StatusCode);
            Assert.Contains("vic at home", await wrong.Content.ReadAsStringAsync(Stop), StringComparison.Ordinal);
        }

        using var kept = await viewer.SendAsync(Page, Page, ("do", "channel"), ("kind", "mail"), ("mail-address", "vic@example.org"));
        using var sent = await viewer.SendAsync(Page, Page, ("do", "test"), ("kind", "mail"));
        await Eventually.TrueAsync(() => sink.Text.Contains("To: vic@example.org", StringComparison.Ordinal), () => sink.Text);
        Assert.DoesNotContain("house@example.org", sink.Text.Split("To:")[1].Split('\n')[0], StringComparison.Ordinal);
        Assert.DoesNotContain("vic@example.org", await maker.Client.GetStringAsync("people", Stop), StringComparison.Ordinal);
        Assert.DoesNotContain("vic@example.org", await maker.Client.GetStringAsync(Page, Stop), StringComparison.Ordinal);
    }

    [Fact]
    public async Task EveryKindOfTheCatalogue_ItsSecretsLeaveTheServiceOnlyToBeUsed()
    {
        await using var service = await RunningService.StartAsync(file => file["Mail"] = MailAt(9));
        using var maker = await Visitor.FirstMakerAsync(service);
        var secrets = new List<string>();
        foreach (var kind in PersonalChannelCatalog.All)
        {
            var fields = kind.Fields.Select(field => ($"{kind.Id}-{field.Name}", ValueOf(kind, field)));
            using var kept = await maker.SendAsync(Page, Page, [("do", "channel"), ("kind", kind.Id), .. fields]);
            Assert.Equal(HttpStatusCode.Redirect, kept.StatusCode);
            secrets.AddRange(kind.Fields.Where(field => field.IsSecret).Select(field => field.Name == "address" ? "quiet-4711" : ValueOf(kind, field)));
            using var sent = await maker.SendAsync(Page, Page, ("do", "test"), ("kind", kind.Id));
            using var wrong = await maker.SendAsync(Page, Page, [("do", "channel"), ("kind", kind.Id), .. kind.Fields.Select(field => ($"{kind.Id}-{field.Name}", "wrong 4711 \u0007"))]);
            Assert.Equal(HttpStatusCode.UnprocessableEntity, wrong.StatusCode);
            var again = await wrong.Content.ReadAsStringAsync(Stop);
            Assert.Equal(kind.Fields.Any(field => !field.IsSecret), again.Contains("wrong 4711", StringComparison.Ordinal));
        }

        Assert.True(secrets.Count >= 3, "The catalogue names no secrets.");
        var seen = new StringBuilder();
        foreach (var path in new[] { Page, "people", "channels", "settings" })
        {
            seen.Append(await maker.Client.GetStringAsync(path, Stop));
        }

        seen.Append(Encoding.Latin1.GetString(await maker.Client.GetByteArrayAsync("export.zip", Stop)));
        // The file of the export goes when its answer is closed.
        await Eventually.TrueAsync(() => Directory.GetFiles(Path.Combine(service.Folder, "exports")).Length == 0, "the export's file stays");
        foreach (var file in Directory.EnumerateFiles(service.Folder, "*", SearchOption.AllDirectories).Where(file => !file.EndsWith(".lock", StringComparison.Ordinal)))
        {
            await using var stream = new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
            using var reader = new StreamReader(stream, Encoding.Latin1);
            seen.Append(await reader.ReadToEndAsync(Stop));
        }

        Assert.All(secrets, secret => Assert.DoesNotContain(secret, seen.ToString(), StringComparison.Ordinal));
        Assert.Contains("127.0.0.1:9", seen.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task TokenRenewedAlone_AddressStays_OtherAddress_OldTokenIsNotTakenAlong()
    {
        await using var relay = await RelayReceiver.AnsweringAsync(200);
        await using var other = await RelayReceiver.AnsweringAsync(200);
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        await KeepRelayAsync(maker, relay);
        using var renewed = await maker.SendAsync(Page, Page, ("do", "channel"), ("kind", "relay"), ("relay-token", "tk-new"));
        using var first = await maker.SendAsync(Page, Page, ("do", "test"), ("kind", "relay"));
        Assert.Equal(("/deep/" + Topic, "Bearer tk-new"), (relay.Requests.Last().Path, relay.Requests.Last().Authorization));
        using var moved = await maker.SendAsync(Page, Page, ("do", "channel"), ("kind", "relay"), ("relay-address", other.Topic.ToString()));
        using var second = await maker.SendAsync(Page, Page, ("do", "test"), ("kind", "relay"));
        Assert.Null(Assert.Single(other.Requests).Authorization);
        Assert.Single(relay.Requests);
        using var gone = await maker.SendAsync(Page, Page, ("do", "remove"), ("kind", "relay"));
        Assert.DoesNotContain(other.Topic.Authority, await maker.Client.GetStringAsync(Page, Stop), StringComparison.Ordinal);
        Assert.Empty(service.Services.GetRequiredService<WishBook>().Listeners());
    }

    [Fact]
    public async Task RelayOnThisMachine_IsForMakersAlone()
    {
        await using var relay = await RelayReceiver.AnsweringAsync(200);
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        using var viewer = await maker.InviteAsync(service, "Vic", "viewer");
        foreach (var host in new[] { "127.0.0.1", "localhost", "[::ffff:127.0.0.1]" })
        {
            using var kept = await viewer.SendAsync(Page, Page, ("do", "channel"), ("kind", "relay"), ("relay-address", $"http://{host}:{relay.Topic.Port}/t"));
            using var sent = await viewer.SendAsync(Page, Page, ("do", "test"), ("kind", "relay"));
            Assert.Contains("leads to this machine", await viewer.Client.GetStringAsync(Page, Stop), StringComparison.Ordinal);
        }

        Assert.Empty(relay.Requests);
    }

    [Fact]
    public async Task SixthTestInAMinute_IsNotSent()
    {
        await using var relay = await RelayReceiver.AnsweringAsync(200);
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        await KeepRelayAsync(maker, relay);
        var answers = new List<HttpStatusCode>();
        for (var test = 0; test < 6; test++)
        {
            using var sent = await maker.SendAsync(Page, Page, ("do", "test"), ("kind", "relay"));
            answers.Add(sent.StatusCode);
        }

        Assert.Contains(HttpStatusCode.TooManyRequests, answers);
        Assert.InRange(relay.Requests.Count, 1, 5);
    }

    [Fact]
    public async Task DeliveryThatFails_IsLoggedWithoutTheAddress()
    {
        await using var service = new ServiceProcess("{\"Outgoing\":{\"Networks\":\"this-machine\"}}", "--broker-port", $"{FreePort.Take()}");
        service.Start();
        await service.ComesUpAsync();
        await Eventually.TrueAsync(() => service.Output.Contains("set-up code is", StringComparison.Ordinal), () => service.Output);
        var code = service.Output.Split("set-up code is ")[1].Split('\n')[0].Trim();
        var root = new Uri(service.Output.Split("The page is at ")[1].Split(',')[0].TrimEnd('/') + "/");
        using var visitor = new Visitor(root);
        using var set = await visitor.SendAsync("setup", "setup", ("code", code), ("name", "Ada"), ("password", Visitor.Password));
        using var kept = await visitor.SendAsync(Page, Page, ("do", "channel"), ("kind", "relay"), ("relay-address", "http://127.0.0.1:9/quiet-4711"), ("relay-token", Token));
        using var sent = await visitor.SendAsync(Page, Page, ("do", "test"), ("kind", "relay"));
        Assert.Contains("not delivered", await visitor.Client.GetStringAsync(Page, Stop), StringComparison.Ordinal);
        await service.StopAsync();
        Assert.DoesNotContain("quiet-4711", service.Output, StringComparison.Ordinal);
        Assert.DoesNotContain(Token, service.Output, StringComparison.Ordinal);
    }

    private static string ValueOf(PersonalChannelKind kind, ChannelField field) => (kind.Id, field.Name) switch
    {
        ("mail", "address") => "ada-4711@example.org",
        (_, "address") => "http://127.0.0.1:9/quiet-4711",
        // [RFC8291] appendix A: a point of the curve, and a secret of 16 bytes.
        ("push", "key") => "BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4",
        ("push", "secret") => "BTBZMqHH6r4Tts7J_aSIgg",
        var (_, name) => $"secret-{name}-4711",
    };

    private static JsonObject MailAt(int port) => new()
    {
        ["Host"] = "127.0.0.1",
        ["Port"] = port,
        ["Security"] = "none",
        ["From"] = "fermentwatch@example.org",
        ["To"] = "house@example.org",
    };

    private static async Task KeepRelayAsync(Visitor visitor, RelayReceiver relay)
    {
        using var kept = await visitor.SendAsync(
            Page, Page, ("do", "channel"), ("kind", "relay"), ("relay-address", $"http://{relay.Topic.Authority}/deep/"), ("relay-topic", Topic), ("relay-token", Token));
        Assert.Equal(HttpStatusCode.Redirect, kept.StatusCode);
    }
}
