using System.Globalization;
using System.Text.Json.Nodes;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using FermentWatch.Service.Pipeline;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Mqtt;
using FermentWatch.System.Tests.Notifiers;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Personal;

/// <summary>An alert reaches each person through their own channel, at their own time, or not at all; and the page on which they say so.</summary>
public sealed class OwnNoticesTests(Browser browser) : IClassFixture<Browser>
{
    private const string Page = "account/notices";

    // Today, because the visitors keep their cookies by the real clock.
    private static readonly DateTimeOffset Start = new DateTimeOffset(DateTime.UtcNow.Date, TimeSpan.Zero).AddHours(6);

    private static readonly string[] Rules = [.. Monitoring.Alerting.AlertRuleCatalog.All.Select(rule => rule.Id)];

    [Fact]
    public async Task TemperatureOutsideTheBand_ReachesWhoWantsItAtTheirTime()
    {
        await using var house = await RelayReceiver.AnsweringAsync(200);
        await using var awake = await RelayReceiver.AnsweringAsync(200);
        await using var asleep = await RelayReceiver.AnsweringAsync(200);
        await using var elsewhere = await RelayReceiver.AnsweringAsync(200);
        var clock = new DemoClock(Start);
        await using var service = await RunningService.StartAsync(file => Configure(file, house.Topic), clock);
        using var ada = await Visitor.FirstMakerAsync(service);
        await WishAsync(ada, awake, "00:00", "00:00", Rules, ("temperature", "fahrenheit"), ("mark", "comma"));
        using var ben = await ada.InviteAsync(service, "Ben", "maker");
        // 20:00 in a zone 5 hours and 45 minutes ahead.
        await WishAsync(ben, asleep, "05:00", "20:00", Rules, ("zone", "Asia/Kathmandu"));
        using var cleo = await ada.InviteAsync(service, "Cleo", "maker");
        await WishAsync(cleo, elsewhere, "00:00", "00:00", [.. Rules.Where(rule => rule != "temperature-band")]);
        for (var minute = 0; minute <= 120; minute += 10)
        {
            clock.MoveTo(Start.AddMinutes(minute));
            var celsius = minute <= 60 ? 20.0 : 24.0;
            var payload = string.Create(CultureInfo.InvariantCulture, $"{{\"gravity\":1.0812,\"celsius\":{celsius}}}");
            var (exit, complaint) = await Mosquitto.PublishAsync(service.BrokerPort, "-q", "1", "-t", "cellar/one", "-m", payload);
            Assert.True(exit == 0, complaint);
        }

        await Eventually.TrueAsync(() => service.Store.ReadCounts().ReadingsStored == 26, () => $"{service.Store.ReadCounts()}");
        clock.Run(60);
        await Eventually.TrueAsync(() => !house.Requests.IsEmpty && !awake.Requests.IsEmpty, "no notice came");
        Assert.Contains("Sloe wine", awake.Requests.First().Body, StringComparison.Ordinal);
        Assert.Contains("75,2", awake.Requests.First().Body, StringComparison.Ordinal);
        Assert.DoesNotContain("75,2", house.Requests.First().Body, StringComparison.Ordinal);
        var outbox = service.Store.ReadOutbox(100).Where(row => row.Channel != "relay").ToList();
        Assert.Equal(2, outbox.Count);
        var held = outbox.Single(row => row.Channel.StartsWith($"person-{service.Store.FindPerson("Ben")!.Id}-", StringComparison.Ordinal));
        Assert.Equal(Start.AddHours(14) - TimeSpan.FromMinutes(345), held.NextAttemptAt.ToDateTimeOffset());
        Assert.Equal((1, 0, 0), (awake.Requests.Count, asleep.Requests.Count, elsewhere.Requests.Count));
    }

    [Fact]
    public async Task OnAPhone_ChannelIsKeptTestedAndWishesStay()
    {
        await using var relay = await RelayReceiver.AnsweringAsync(200);
        await using var service = await RunningService.StartAsync(file => Configure(file, null));
        using var maker = await Visitor.FirstMakerAsync(service);
        foreach (var scheme in new[] { ColorScheme.Light, ColorScheme.Dark })
        {
            var (page, errors) = await browser.OpenAsync(390, 844, scheme);
            await page.GotoAsync(new Uri(service.Page, "sign-in").ToString());
            await page.GetByLabel("Name").FillAsync("Ada");
            await page.GetByLabel("Password").FillAsync(Visitor.Password);
            await Button(page, "Sign in").ClickAsync();
            await page.GotoAsync(new Uri(service.Page, "settings").ToString());
            await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Your notices", Exact = true }).ClickAsync();
            await page.GetByLabel("Address", new PageGetByLabelOptions { Exact = true }).FillAsync("relay");
            await Button(page, "Keep Push relay").ClickAsync();
            await Assertions.Expect(page.Locator(".fault")).ToContainTextAsync("no address of a relay");
            await CheckAsync(page);
            await page.GetByLabel("Address", new PageGetByLabelOptions { Exact = true }).FillAsync(relay.Topic.ToString());
            await Button(page, "Keep Push relay").ClickAsync();
            await Button(page, "Send a test Push relay").ClickAsync();
            await Assertions.Expect(page.GetByText("the channel took it")).ToBeVisibleAsync();
            await page.GetByLabel("Quiet from").FillAsync("21:30");
            await page.GetByLabel("Notices a day at most").FillAsync("5");
            await page.GetByLabel("it has not begun").UncheckAsync();
            await page.GetByLabel("These:").CheckAsync();
            await page.GetByLabel("Sloe wine").CheckAsync();
            await Button(page, "Keep what I want").ClickAsync();
            await Assertions.Expect(page.GetByLabel("Quiet from")).ToHaveValueAsync("21:30");
            await Assertions.Expect(page.GetByLabel("Notices a day at most")).ToHaveValueAsync("5");
            await Assertions.Expect(page.GetByLabel("it has not begun")).Not.ToBeCheckedAsync();
            await Assertions.Expect(page.GetByLabel("Sloe wine")).ToBeCheckedAsync();
            await CheckAsync(page);
            await Pictures.KeepAsync(page, "own-notices", 390, scheme);
            errors.RemoveAll(error => error.Contains("422", StringComparison.Ordinal));
            Assert.Empty(errors);
        }

        Assert.Equal(2, relay.Requests.Count);
    }

    private static ILocator Button(IPage page, string name) => page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = name, Exact = true });

    private static async Task CheckAsync(IPage page)
    {
        var aside = await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth - document.documentElement.clientWidth");
        Assert.True(aside == 0, $"{page.Url} scrolls sideways by {aside} px.");
        var whole = await page.EvaluateAsync<int>("() => document.documentElement.scrollHeight");
        await page.SetViewportSizeAsync(390, Math.Max(844, whole));
        var found = await page.RunAxe(new AxeRunOptions { RunOnly = RunOnlyOptions.Tags("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa") });
        Assert.True(found.Violations.Length == 0, $"{page.Url}: {string.Join("; ", found.Violations.Select(v => v.Id + " " + string.Join(", ", v.Nodes.Select(node => node.Html))))}");
        await page.SetViewportSizeAsync(390, 844);
    }

    private static async Task WishAsync(Visitor visitor, RelayReceiver relay, string from, string until, string[] rules, params (string Name, string Value)[] own)
    {
        using var channel = await visitor.SendAsync(Page, Page, ("do", "channel"), ("kind", "relay"), ("relay-address", relay.Topic.ToString()));
        using var wishes = await visitor.SendAsync(
            Page, Page, [("do", "wishes"), ("quiet-from", from), ("quiet-until", until), ("batches", "all"), .. rules.Select(rule => ("rule", rule)), .. own]);
        Assert.Contains("done=wishes", wishes.Headers.Location?.ToString(), StringComparison.Ordinal);
    }

    private static void Configure(JsonObject file, Uri? relay)
    {
        file["Topics"] = new JsonArray(RunningService.Topic("cellar/one", "float-1", null, ("/gravity", "gravity", "SG"), ("/celsius", "temperature", "°C")));
        file["Batches"] = new JsonArray(new JsonObject
        {
            ["Id"] = "sloe",
            ["Name"] = "Sloe wine",
            ["Kind"] = "wine",
            ["VolumeLiters"] = 10,
            ["Inoculated"] = Start.AddHours(-1).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture),
            ["OriginalGravity"] = 1.090,
            ["BandLowCelsius"] = 18,
            ["BandHighCelsius"] = 22,
            ["TolerancePercent"] = 14,
            ["Sensors"] = new JsonArray(new JsonObject { ["Sensor"] = "float-1" }),
        });
        if (relay is not null)
        {
            file["Relay"] = new JsonObject { ["Url"] = relay.AbsoluteUri };
        }
    }
}
