using System.Net;
using FermentWatch.Service.Access;
using FermentWatch.Service.Configuration;
using FermentWatch.System.Tests.EndToEnd;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace FermentWatch.System.Tests.Access;

/// <summary>Requests that a proxy hands over: whom they come from, and what nobody may pretend.</summary>
public sealed class ProxiesTests
{
    public static TheoryData<string, string> Traces => new()
    {
        { "X-Forwarded-For", "192.0.2.7" },
        { "X-Forwarded-For", "127.0.0.1" },
        { "X-Forwarded-Host", "cellar.example.org" },
        { "X-Forwarded-Proto", "https" },
        { "X-Real-IP", "127.0.0.1" },
        { "Forwarded", "for=127.0.0.1" },
        { "Via", "1.1 proxy" },
        { "Host", "cellar.example.org" },
        { "Host", "127.0.0.1.example.org" },
        { "Origin", "https://cellar.example.org" },
    };

    [Theory]
    [MemberData(nameof(Traces))]
    public async Task NobodyHasAPassword_RequestThroughAProxyOrToAnotherNameOpensNothing(string header, string value)
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var client = new HttpClient { BaseAddress = service.Page };
        foreach (var path in new[] { "", "settings", "setup", "people", "export.zip", "nowhere" })
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, path);
            Assert.True(request.Headers.TryAddWithoutValidation(header, value));
            using var answer = await client.SendAsync(request, TestContext.Current.CancellationToken);
            Assert.True(answer.StatusCode == HttpStatusCode.Forbidden, $"{path} with {header}: {answer.StatusCode}");
            Assert.Contains("Nobody has a password yet", await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
        }

        using var visitor = new Visitor(service.Page);
        visitor.Client.DefaultRequestHeaders.TryAddWithoutValidation("X-Nothing", value);
        Assert.Equal(HttpStatusCode.OK, (await visitor.GetAsync("setup")).StatusCode);
        visitor.Client.DefaultRequestHeaders.TryAddWithoutValidation(header, value);
        var code = service.Services.GetRequiredService<SetUpCode>().Text;
        using var form = new FormUrlEncodedContent([KeyValuePair.Create("code", code), KeyValuePair.Create("name", "Eve"), KeyValuePair.Create("password", Visitor.Password)]);
        using var set = await visitor.Client.PostAsync("setup", form, TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.Forbidden, set.StatusCode);
        Assert.Empty(service.Store.ReadPeople());
    }

    [Theory]
    [InlineData("localhost")]
    [InlineData("cellar.localhost")]
    [InlineData("[::1]:5080")]
    [InlineData("127.0.0.2:5080")]
    public async Task NobodyHasAPassword_NamesOfLoopbackOpenThePages(string host)
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var client = new HttpClient { BaseAddress = service.Page };
        using var request = new HttpRequestMessage(HttpMethod.Get, "settings");
        request.Headers.Host = host;
        using var answer = await client.SendAsync(request, TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
    }

    [Fact]
    public async Task ProxyOfTheSettings_EachVisitorHasTriesOfTheirOwnAndNobodyBuysMoreByAHeader()
    {
        await using var service = await RunningService.StartAsync(file => file["Page"]!["TrustedProxies"] = "127.0.0.1");
        using var maker = await Visitor.FirstMakerAsync(service);
        using var guesser = new Visitor(service.Page);
        using var neighbor = new Visitor(service.Page);
        guesser.Client.DefaultRequestHeaders.Add("X-Forwarded-For", "192.0.2.7");
        neighbor.Client.DefaultRequestHeaders.Add("X-Forwarded-For", "192.0.2.8");
        Assert.True(await WrongTriesAsync(guesser, 15) <= 12);
        Assert.Equal(1, await WrongTriesAsync(neighbor, 1));
        // What a visitor writes stands to the left of what the proxy adds, and is not believed.
        var read = 0;
        for (var guess = 0; guess < 15; guess++)
        {
            guesser.Client.DefaultRequestHeaders.Remove("X-Forwarded-For");
            guesser.Client.DefaultRequestHeaders.Add("X-Forwarded-For", $"198.51.100.{guess}, 192.0.2.7");
            read += await WrongTriesAsync(guesser, 1);
        }

        Assert.True(read <= 4, $"{read} tries were read of an address whose tries were used up.");
    }

    [Fact]
    public async Task ProxyThatTheSettingsDoNotName_ItsWordChangesNothing()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        using var guesser = new Visitor(service.Page, "127.0.0.3");
        var read = 0;
        for (var guess = 0; guess < 15; guess++)
        {
            guesser.Client.DefaultRequestHeaders.Remove("X-Forwarded-For");
            guesser.Client.DefaultRequestHeaders.Add("X-Forwarded-For", $"198.51.100.{guess}");
            read += await WrongTriesAsync(guesser, 1);
        }

        Assert.True(read <= 12, $"{read} of 15 tries were read.");
    }

    [Fact]
    public async Task ProxyWithTls_CookiesAndLinksAreForTls()
    {
        await using var service = await RunningService.StartAsync(file => file["Page"]!["TrustedProxies"] = "127.0.0.1");
        using var maker = await Visitor.FirstMakerAsync(service);
        maker.Client.DefaultRequestHeaders.Add("X-Forwarded-For", "192.0.2.7");
        using var plain = await maker.SendAsync("sign-in", "sign-in", ("name", "Ada"), ("password", Visitor.Password));
        Assert.DoesNotContain("secure", plain.Headers.GetValues("Set-Cookie").Single(one => one.StartsWith("fermentwatch-sign-in=", StringComparison.Ordinal)), StringComparison.OrdinalIgnoreCase);
        using var invited = await maker.SendAsync("people", "people", ("do", "invite"), ("name", "Vic"), ("role", "viewer"));
        Assert.StartsWith("http://", Visitor.Made(await invited.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)), StringComparison.Ordinal);
        maker.Client.DefaultRequestHeaders.Add("X-Forwarded-Proto", "https");
        using var tls = await maker.SendAsync("people", "people", ("do", "invite"), ("name", "Wyn"), ("role", "viewer"));
        Assert.StartsWith("https://", Visitor.Made(await tls.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)), StringComparison.Ordinal);
        using var signed = await maker.SendAsync("sign-in", "sign-in", ("name", "Ada"), ("password", Visitor.Password));
        Assert.Contains("secure", signed.Headers.GetValues("Set-Cookie").Single(one => one.StartsWith("fermentwatch-sign-in=", StringComparison.Ordinal)), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task NobodyHasAPassword_RefusesToStartBehindAProxy()
    {
        using var data = new Configuration.TemporaryDataDirectory("""{ "Page": { "TrustedProxies": "127.0.0.1" } }""");
        var read = SettingsLoader.Load(data.Location, new Dictionary<string, string?>(), new Dictionary<string, string?>());
        await using var store = Infrastructure.Storage.Store.Open(
            new Infrastructure.Storage.StoreOptions(data.Location), TimeProvider.System, Microsoft.Extensions.Logging.Abstractions.NullLogger<Infrastructure.Storage.Store>.Instance);
        Assert.Contains("Page:TrustedProxies is '127.0.0.1/32'", ListeningRule.Refusal(read.Settings!, store), StringComparison.Ordinal);
        await store.AddFirstMakerAsync("Ada", "hash", TestContext.Current.CancellationToken);
        Assert.Null(ListeningRule.Refusal(read.Settings!, store));
    }

    /// <summary>How many of these tries were read, not refused for their number.</summary>
    private static async Task<int> WrongTriesAsync(Visitor visitor, int tries)
    {
        var read = 0;
        for (var guess = 0; guess < tries; guess++)
        {
            using var answer = await visitor.SendAsync("sign-in", "sign-in", ("name", "Ada"), ("password", $"guess number {guess}"));
            read += answer.StatusCode == HttpStatusCode.TooManyRequests ? 0 : 1;
        }

        return read;
    }

}
