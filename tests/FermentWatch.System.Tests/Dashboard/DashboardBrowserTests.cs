using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service.Dashboard;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Dashboard;

/// <summary>The pages in a real browser. Rules of accessibility: WCAG 2.2 level A and AA as axe-core checks them.</summary>
public sealed class DashboardBrowserTests(Browser browser) : IClassFixture<Browser>
{
    private static readonly string[] Pages = ["", "batch/quince", "batch/quince?part=tail", "batch/damson?view=gravity", "batch/damson?part=week", "batch/heather", "batch/elder", "alerts", "messages", "settings", "connect", "batch/quince/table", "bench", "bench?batch=quince", "bench/alcohol-from-gravity", "bench/alcohol-from-gravity?batch=quince", "bench/alcohol-from-gravity?sent=yes&original-gravity=109", "nowhere/at/all"];

    [Fact]
    public async Task AnyPageOnAPhoneInDark_NeitherErrorNorSidewaysScrollNorBarrier()
    {
        await Check(390, 844, ColorScheme.Dark);
    }

    [Fact]
    public async Task AnyPageOnADeskInLight_NeitherErrorNorSidewaysScrollNorBarrier()
    {
        await Check(1280, 800, ColorScheme.Light);
    }

    [Fact]
    public async Task AnyPageOnTheNarrowestPhone_NoSidewaysScrollAndLegibleText()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        var (page, _) = await browser.OpenAsync(320, 700, ColorScheme.Light);
        foreach (var path in Pages)
        {
            await page.GotoAsync(new Uri(site.Root, path).ToString());
            Assert.True(await SidewaysScroll(page) == 0, $"{path} scrolls sideways at 320 px by {await SidewaysScroll(page)} px.");
        }

        await page.GotoAsync(new Uri(site.Root, "batch/quince").ToString());
        var shown = await page.EvaluateAsync<double>(
            "() => { const svg = document.querySelector('svg.phone'); return 14 * svg.getBoundingClientRect().width / svg.viewBox.baseVal.width; }");
        Assert.InRange(shown, 12.5, 20);
    }

    [Fact]
    public async Task NewViewPublished_PageChangesInPlaceKeepingFocusAndOpenedPart()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Of(InventedCellar.MidFerment()));
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await page.GotoAsync(new Uri(site.Root, "batch/quince").ToString());
        await Assertions.Expect(page.Locator("svg.phone .nowpt").First).ToBeVisibleAsync();
        await page.Locator("summary").First.ClickAsync();
        await page.EvaluateAsync("() => { window.stayed = true; document.querySelector('summary').focus(); }");
        var scroll = await page.EvaluateAsync<double>("() => scrollY");

        site.Board.Publish(InventedCellar.Of(InventedCellar.MidFerment(present: 1.051)));

        await Assertions.Expect(page.Locator("tbody tr").First).ToContainTextAsync("1.05", new LocatorAssertionsToContainTextOptions { Timeout = 60000 });
        Assert.True(await page.EvaluateAsync<bool>("() => window.stayed === true && document.activeElement.tagName === 'SUMMARY' && document.querySelector('details').open"));
        Assert.Equal(scroll, await page.EvaluateAsync<double>("() => scrollY"));
        Assert.Empty(errors);
    }

    [Fact]
    public async Task FirstReadingOfABatch_CurveAppearsOnTheOpenPage()
    {
        var empty = InventedCellar.WithoutReadings();
        await using var site = await DashboardSite.StartAsync(InventedCellar.Of(empty));
        var (page, errors) = await browser.OpenAsync(1280, 800, ColorScheme.Light);
        await page.GotoAsync(new Uri(site.Root, "batch/elder").ToString());
        await Assertions.Expect(page.Locator("svg[role=img]")).ToHaveCountAsync(0);

        var time = EventTime.From(InventedCellar.Now);
        var first = new Monitoring.Batches.GravityPoint(time, SpecificGravity.FromRatio(1.09), 1);
        site.Board.Publish(InventedCellar.Of(new BoardEntry(empty.View with { Gravity = ValueList.Of(first) }, empty.Alerts)));

        await Assertions.Expect(page.Locator("svg.wide .nowpt")).ToBeVisibleAsync(new LocatorAssertionsToBeVisibleOptions { Timeout = 60000 });
        Assert.Empty(errors);
    }

    [Fact]
    public async Task UnderABasePath_StylesLoadAndLinksStayBelowIt()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full(), "/cellar");
        var (page, errors) = await browser.OpenAsync(1280, 800, ColorScheme.Light);
        await page.GotoAsync(site.Root.ToString().TrimEnd('/'));
        await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Quince mead" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "The same as a table" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Settings" }).ClickAsync();
        Assert.Equal(new Uri(site.Root, "settings").ToString(), page.Url);
        Assert.NotEqual("rgba(0, 0, 0, 0)", await page.EvaluateAsync<string>("() => getComputedStyle(document.body).backgroundColor"));
        Assert.Empty(errors);
    }

    private static Task<int> SidewaysScroll(IPage page) =>
        page.EvaluateAsync<int>("() => document.documentElement.scrollWidth - document.documentElement.clientWidth");

    private async Task Check(int width, int height, ColorScheme scheme)
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        var (page, errors) = await browser.OpenAsync(width, height, scheme);
        foreach (var path in Pages)
        {
            // The whole page in view: else the sticky foot counts as covering a target.
            await page.SetViewportSizeAsync(width, height);
            await page.GotoAsync(new Uri(site.Root, path).ToString());
            Assert.True(await SidewaysScroll(page) == 0, $"{path} scrolls sideways at {width} px by {await SidewaysScroll(page)} px.");
            var whole = await page.EvaluateAsync<int>("() => document.documentElement.scrollHeight");
            await page.SetViewportSizeAsync(width, Math.Max(height, whole));
            var found = await page.RunAxe(new AxeRunOptions { RunOnly = RunOnlyOptions.Tags("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa") });
            Assert.True(found.Violations.Length == 0, $"{path}: {string.Join("; ", found.Violations.Select(v => v.Id + " " + string.Join(", ", v.Nodes.Select(node => node.Html))))}");
            Assert.True(found.Passes.Length > 5, $"{path}: only {found.Passes.Length} rules looked at anything.");
            await Pictures.KeepAsync(page, path, width, scheme);
        }

        // The missing page is an answer 404, which the browser notes by itself.
        errors.RemoveAll(error => error.Contains("404", StringComparison.Ordinal));
        Assert.Empty(errors);
    }
}
