using System.Net;
using System.Text.Json.Nodes;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.Mqtt;
using FermentWatch.System.Tests.Notifiers;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Acts;

/// <summary>What somebody says about a real alert on a phone of 390 pixels.</summary>
public sealed class AlertActsBrowserTests(Browser browser) : IClassFixture<Browser>
{
    [Fact]
    public async Task SnoozedAlert_StaysQuietForFourHoursIsToldAgainAndCanBeCalledWrong()
    {
        await using var relay = await RelayReceiver.AnsweringAsync(200);
        await using var cellar = await WarmCellar.StartAsync(file => file["Relay"] = new JsonObject { ["Url"] = relay.Topic.AbsoluteUri }, 24);
        await cellar.SendAsync(130, 130, 24);
        await Eventually.TrueAsync(() => relay.Requests.Count == 1, "no notice came");
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await page.GotoAsync(new Uri(cellar.Service.Page, "alerts").AbsoluteUri);
        await CheckAsync(page);

        await Button(page, "Snooze 4 h").ClickAsync();

        await Assertions.Expect(page.Locator("article")).ToContainTextAsync("Quiet until");
        Assert.EndsWith("/alerts", page.Url, StringComparison.Ordinal);
        await CheckAsync(page);
        Assert.Equal(WarmCellar.Start.AddMinutes(130).AddHours(4), cellar.Alert.Snooze!.Until.ToDateTimeOffset());

        // Up to ten minutes before the end nothing is said; then it is said once.
        await cellar.SendAsync(140, 360, 24);
        Assert.Equal(1, cellar.Alert.StateNumber);
        await cellar.SendAsync(370, 380, 24);
        await Eventually.TrueAsync(() => cellar.Alert.StateNumber == 2, "it is not told again");
        await cellar.SendAsync(390, 390, 24);
        await Eventually.TrueAsync(() => relay.Requests.Count == 2, () => $"{relay.Requests.Count} notices");
        Assert.Null(cellar.Alert.Snooze);

        await page.ReloadAsync();
        await Button(page, "It's wrong").ClickAsync();
        await Assertions.Expect(page.Locator("article")).ToContainTextAsync("Called wrong");
        Assert.NotNull(cellar.Alert.DisputedAt);
        Assert.Empty(errors);
    }

    [Fact]
    public async Task UrgentAlert_IsTakenOnFromTheBatchsPage()
    {
        await using var cellar = await WarmCellar.StartAsync(_ => { }, 34);
        await Eventually.TrueAsync(() => cellar.Alerts.Any(alert => alert.Rule == "temperature-danger"), "no urgent alert");
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Dark);
        await page.GotoAsync(new Uri(cellar.Service.Page, "batch/sloe").AbsoluteUri);
        var urgent = page.Locator("article.urgent");
        await urgent.GetByRole(AriaRole.Button, new() { NameRegex = new("^On it") }).ClickAsync();
        await Assertions.Expect(urgent).ToContainTextAsync("Somebody is on it since");
        Assert.EndsWith("/batch/sloe", page.Url, StringComparison.Ordinal);
        await CheckAsync(page);
        Assert.NotNull(cellar.Alerts.Single(alert => alert.Rule == "temperature-danger").AcknowledgedAt);
        Assert.Empty(errors);
    }

    [Fact]
    public async Task AlertThatIsOverAndActThatIsNone_ChangeNothingAndAreToldSo()
    {
        await using var cellar = await WarmCellar.StartAsync(_ => { }, 24);
        using var visitor = new Visitor(cellar.Service.Page);
        var before = cellar.Alert;
        using var over = await visitor.SendAsync("work/sloe", "alerts/act", ("batch", "sloe"), ("alert", "sloe/temperature-band/float-1/9"), ("act", "on-it"));
        Assert.Equal((HttpStatusCode.Redirect, "/alerts?over"), (over.StatusCode, over.Headers.Location!.ToString()));
        Assert.Contains("That alert is over already", await visitor.Client.GetStringAsync("alerts?over", TestContext.Current.CancellationToken), StringComparison.Ordinal);
        using var none = await visitor.SendAsync("work/sloe", "alerts/act", ("batch", "sloe"), ("alert", before.Key), ("act", "later"));
        Assert.Equal(HttpStatusCode.BadRequest, none.StatusCode);
        Assert.Contains("'later'", await none.Content.ReadAsStringAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
        using var opened = await visitor.GetAsync("alerts/act?batch=sloe&act=on-it&alert=" + Uri.EscapeDataString(before.Key));
        Assert.Equal(HttpStatusCode.NotFound, opened.StatusCode);
        Assert.Equal((before.AcknowledgedAt, before.Snooze, before.DisputedAt), (cellar.Alert.AcknowledgedAt, cellar.Alert.Snooze, cellar.Alert.DisputedAt));
    }

    private static ILocator Button(IPage page, string name) => page.GetByRole(AriaRole.Button, new() { NameRegex = new("^" + name) });

    private static async Task CheckAsync(IPage page)
    {
        Assert.Equal(0, await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth - document.documentElement.clientWidth"));
        var widths = await page.EvaluateAsync<double[]>("() => [...document.querySelector('.three-up').querySelectorAll('.btn')].map(one => Math.round(one.getBoundingClientRect().width))");
        Assert.Equal(3, widths.Length);
        Assert.Single(widths.Distinct());
        // The bar at the foot of a phone lies over whatever is scrolled beneath it; here nothing is.
        await page.SetViewportSizeAsync(390, 6000);
        var found = await page.RunAxe(new AxeRunOptions { RunOnly = RunOnlyOptions.Tags("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa") });
        Assert.True(found.Violations.Length == 0, $"{page.Url}: {string.Join("; ", found.Violations.Select(v => v.Id + " " + string.Join(", ", v.Nodes.Select(node => node.Html))))}");
    }
}
