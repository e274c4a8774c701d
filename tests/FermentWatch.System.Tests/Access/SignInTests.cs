using System.Diagnostics;
using System.Globalization;
using System.Net;
using FermentWatch.System.Tests.EndToEnd;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace FermentWatch.System.Tests.Access;

/// <summary>Who gets in, over real HTTP against the whole service.</summary>
public sealed class SignInTests(ITestOutputHelper output)
{
    private static readonly string[] OpenRoutes = ["/setup", "/sign-in", "/sign-out", "/invitation/{code}", "/act/{token}", "/calendar/{key}", "/push-worker.js", "/assets/{name}", "/health", "/healthz", "/readyz", "/metrics", "/api/v1/readings", "/tasting", "/tasting/{code}", "/tasting/{code}/glass/{glass}", "/tasting/{code}/order", "/tasting/{code}/done"];

    [Fact]
    public async Task NobodyHasAPassword_PagesAreOpenAndPeopleLeadToSetUp()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var visitor = new Visitor(service.Page);
        Assert.Equal(HttpStatusCode.OK, (await visitor.GetAsync("settings")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await visitor.GetAsync("devices")).StatusCode);
        Assert.Equal("/setup", (await visitor.GetAsync("people")).Headers.Location?.ToString());
    }

    [Fact]
    public async Task WrongCode_NobodyIsAddedAndTheFieldSaysWhy()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var visitor = new Visitor(service.Page);
        using var answer = await visitor.SendAsync("setup", "setup", ("code", "AAAAA-AAAAA"), ("name", "Ada"), ("password", Visitor.Password));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        var html = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.Contains("not the code", html, StringComparison.Ordinal);
        Assert.DoesNotContain(Visitor.Password, html, StringComparison.Ordinal);
        Assert.Empty(service.Store.ReadPeople());
    }

    [Fact]
    public async Task SomebodyHasAPassword_NoRouteOpensWithoutSigningIn()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        using var stranger = new Visitor(service.Page);
        var checkedRoutes = 0;
        foreach (var endpoint in service.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>())
        {
            var route = endpoint.RoutePattern.RawText!;
            if (OpenRoutes.Contains(route))
            {
                continue;
            }

            var path = route.Replace("{*path}", "nowhere", StringComparison.Ordinal).Replace("{id}", "1", StringComparison.Ordinal).Replace("{trial:long}", "1", StringComparison.Ordinal).Replace("{", "", StringComparison.Ordinal).Replace("}", "", StringComparison.Ordinal);
            foreach (var method in endpoint.Metadata.GetMetadata<IHttpMethodMetadata>()?.HttpMethods ?? ["GET"])
            {
                using var request = new HttpRequestMessage(new HttpMethod(method), path);
                using var answer = await stranger.Client.SendAsync(request, TestContext.Current.CancellationToken);
                var isAsked = answer.StatusCode == HttpStatusCode.Unauthorized
                    || (answer.StatusCode == HttpStatusCode.Redirect && answer.Headers.Location!.ToString().StartsWith("/sign-in?return=", StringComparison.Ordinal));
                Assert.True(isAsked, $"{method} {path}: {answer.StatusCode}");
                checkedRoutes++;
            }
        }

        Assert.True(checkedRoutes > 15, $"Only {checkedRoutes} routes were found.");
        Assert.Equal(HttpStatusCode.OK, (await stranger.GetAsync("health")).StatusCode);
        Assert.Equal("/sign-in", (await stranger.GetAsync("setup")).Headers.Location?.ToString());
    }

    [Fact]
    public async Task EveryEntryOfTheSettings_OpensForAMaker()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        foreach (var entry in Service.Dashboard.SettingsEntries.All)
        {
            using var answer = await maker.GetAsync(entry.Path);
            Assert.True(answer.StatusCode == HttpStatusCode.OK, $"{entry.Path}: {answer.StatusCode}");
        }
    }

    [Fact]
    public async Task Viewer_ReadsAndChangesNothing()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        using var viewer = await maker.InviteAsync(service, "Vic", "viewer");
        Assert.Equal(HttpStatusCode.OK, (await viewer.GetAsync("")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await viewer.GetAsync("account")).StatusCode);
        foreach (var path in new[] { "people", "devices", "PEOPLE", "devices/" })
        {
            Assert.Equal(HttpStatusCode.Forbidden, (await viewer.GetAsync(path)).StatusCode);
        }

        using var invite = await viewer.SendAsync("account", "people", ("do", "invite"), ("name", "Eve"), ("role", "maker"));
        using var device = await viewer.SendAsync("account", "devices", ("do", "add"), ("name", "float"));
        Assert.Equal([HttpStatusCode.Forbidden, HttpStatusCode.Forbidden], [invite.StatusCode, device.StatusCode]);
        Assert.Equal(2, service.Store.ReadPeople().Count);
        Assert.Empty(service.Store.ReadDevices());
    }

    [Fact]
    public async Task SignInEndedOrPersonShutOut_CookieCountsNoMore()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        using var viewer = await maker.InviteAsync(service, "Vic", "viewer");
        var person = service.Store.FindPerson("vic")!;
        using (await maker.SendAsync("people", "people", ("do", "end"), ("key", service.Store.ReadSignIns().Single(one => one.Person.Id == person.Id).Key)))
        {
            Assert.Equal(HttpStatusCode.Redirect, (await viewer.GetAsync("alerts")).StatusCode);
        }

        using (var again = await viewer.SendAsync("sign-in", "sign-in", ("name", "VIC"), ("password", Visitor.Password)))
        {
            Assert.Equal(HttpStatusCode.OK, (await viewer.GetAsync("alerts")).StatusCode);
        }

        using var shut = await maker.SendAsync("people", "people", ("do", "disable"), ("id", person.Id.ToString(CultureInfo.InvariantCulture)));
        Assert.Equal(HttpStatusCode.Redirect, (await viewer.GetAsync("alerts")).StatusCode);
        using var refused = await viewer.SendAsync("sign-in", "sign-in", ("name", "Vic"), ("password", Visitor.Password));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.StatusCode);
    }

    [Fact]
    public async Task LastMaker_StaysOne()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        var id = service.Store.FindPerson("Ada")!.Id.ToString(CultureInfo.InvariantCulture);
        using var role = await maker.SendAsync("people", "people", ("do", "role"), ("id", id), ("role", "viewer"));
        using var shut = await maker.SendAsync("people", "people", ("do", "disable"), ("id", id));
        Assert.Equal([HttpStatusCode.UnprocessableEntity, HttpStatusCode.UnprocessableEntity], [role.StatusCode, shut.StatusCode]);
        Assert.Equal(Infrastructure.Storage.Role.Maker, service.Store.FindPerson("Ada")!.Role);
        Assert.Equal(HttpStatusCode.OK, (await maker.GetAsync("people")).StatusCode);
    }

    [Theory]
    [InlineData("//evil.example/")]
    [InlineData("/\\evil.example/")]
    [InlineData("https://evil.example/")]
    [InlineData("javascript:alert(1)")]
    public async Task ReturnAddressElsewhere_IsNotFollowed(string asked)
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        using var back = await maker.SendAsync("sign-in", "sign-in", ("name", "Ada"), ("password", Visitor.Password), ("return", asked));
        Assert.Equal("/", back.Headers.Location?.ToString());
        using var ours = await maker.SendAsync("sign-in", "sign-in", ("name", "Ada"), ("password", Visitor.Password), ("return", "/alerts?a=1"));
        Assert.Equal("/alerts?a=1", ours.Headers.Location?.ToString());
    }

    [Fact]
    public async Task FormWithoutItsToken_IsRefused()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        using var form = new FormUrlEncodedContent([KeyValuePair.Create("do", "add"), KeyValuePair.Create("name", "float")]);
        using var answer = await maker.Client.PostAsync("devices", form, TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Empty(service.Store.ReadDevices());
    }

    [Fact]
    public async Task SignedIn_CookieIsOutOfReachOfScriptsAndOtherSites()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        using var answer = await maker.SendAsync("sign-in", "sign-in", ("name", "Ada"), ("password", Visitor.Password));
        var cookie = answer.Headers.GetValues("Set-Cookie").Single(one => one.StartsWith("fermentwatch-sign-in=", StringComparison.Ordinal));
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=lax", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("expires=", cookie, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task TwoHundredGuesses_AtMostTwentyAreReadAndTheOwnerGetsInFromElsewhere()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        using var guesser = new Visitor(service.Page, "127.0.0.3");
        var watch = Stopwatch.StartNew();
        var (read, refused) = (0, 0);
        for (var guess = 0; guess < 200; guess++)
        {
            using var answer = await guesser.SendAsync("sign-in", "sign-in", ("name", "Ada"), ("password", $"guess number {guess}"));
            (read, refused) = answer.StatusCode == HttpStatusCode.TooManyRequests ? (read, refused + 1) : (read + 1, refused);
        }

        var minutes = Math.Ceiling(watch.Elapsed.TotalMinutes);
        Assert.Equal(200, read + refused);
        Assert.InRange(read, 1, 20 * minutes);

        using var owner = new Visitor(service.Page, "127.0.0.4");
        watch.Restart();
        using var entered = await owner.SendAsync("sign-in", "sign-in", ("name", "Ada"), ("password", Visitor.Password));
        Assert.Equal(HttpStatusCode.Redirect, entered.StatusCode);
        output.WriteLine($"{read} of 200 guesses were read; the owner was in after {watch.ElapsedMilliseconds} ms.");
        Assert.True(watch.Elapsed < TimeSpan.FromMinutes(1), $"The owner waited {watch.Elapsed}.");
    }

    [Fact]
    public async Task InvitationUsed_CountsNoMore()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        using var answer = await maker.SendAsync("people", "people", ("do", "invite"), ("name", "Tess"), ("role", "taster"));
        var link = Visitor.Made(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
        using var tess = new Visitor(service.Page);
        using var accepted = await tess.SendAsync(link, link, ("password", Visitor.Password));
        Assert.Equal(HttpStatusCode.Redirect, accepted.StatusCode);
        using var late = new Visitor(service.Page);
        Assert.DoesNotContain("type=\"password\"", await late.Client.GetStringAsync(link, TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Fact]
    public async Task PasswordChanged_OtherBrowsersAreOut()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var maker = await Visitor.FirstMakerAsync(service);
        using var phone = new Visitor(service.Page);
        using (await phone.SendAsync("sign-in", "sign-in", ("name", "Ada"), ("password", Visitor.Password)))
        {
            Assert.Equal(HttpStatusCode.OK, (await phone.GetAsync("alerts")).StatusCode);
        }

        using var wrong = await maker.SendAsync("account", "account", ("present", "not this one, no"), ("password", "thimble gravel otter"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, wrong.StatusCode);
        using var changed = await maker.SendAsync("account", "account", ("present", Visitor.Password), ("password", "thimble gravel otter"));
        Assert.Equal("/account?done=password", changed.Headers.Location?.ToString());
        Assert.Equal(HttpStatusCode.OK, (await maker.GetAsync("account")).StatusCode);
        Assert.Equal(HttpStatusCode.Redirect, (await phone.GetAsync("alerts")).StatusCode);
    }
}
