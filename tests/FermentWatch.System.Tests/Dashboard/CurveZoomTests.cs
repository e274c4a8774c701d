using System.Globalization;
using System.Text.RegularExpressions;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service.Dashboard;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Dashboard;

/// <summary>Zoom and pan of the curve of a batch with 50,000 readings: by links without a script, by keyboard, by mouse and by touch.</summary>
public sealed class CurveZoomTests(Browser browser) : IClassFixture<Browser>
{
    [Fact]
    public async Task FiftyThousandReadings_AtMostAThousandBucketsAreSentHoweverCloseOneLooks()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Of(Long()));
        var path = "batch/quince";
        var closest = 0;
        for (var step = 0; step < 9; step++)
        {
            var html = await site.Client.GetStringAsync(path, TestContext.Current.CancellationToken);
            // A bucket is a column of the picture with its lowest and its highest place: two pairs of numbers at most.
            var spots = Regex.Matches(html, "class=\"measured\" d=\"M([^\"]+)\"").Sum(line => line.Groups[1].Value.Split(' ').Length / 2);
            Assert.InRange(spots, 20, 2000);
            if (Regex.Match(html, "href=\"([^\"]+)#curve\" data-move=\"closer\"") is not { Success: true } closer)
            {
                closest = step;
                break;
            }

            path = "batch/" + global::System.Net.WebUtility.HtmlDecode(closer.Groups[1].Value).Split("batch/")[1];
        }

        Assert.InRange(closest, 6, 9);
    }

    [Fact]
    public async Task WithoutScript_TheLinksMoveAndTheAddressThatIsWrongShowsAll()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Of(Long()));
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Light, hasScript: false);
        await page.GotoAsync(new Uri(site.Root, "batch/quince").ToString());
        await Assertions.Expect(page.Locator("[data-move=wider]")).ToHaveCountAsync(0);
        await page.Locator("[data-move=closer]").ClickAsync();
        var (from, until) = await WindowAsync(page);
        await page.Locator("[data-move=later]").ClickAsync();
        var moved = await WindowAsync(page);
        Assert.InRange(moved.From - from, (until - from) / 2 - 2000, (until - from) / 2 + 2000);
        await page.Locator("[data-move=wider]").ClickAsync();
        await page.GotoAsync(new Uri(site.Root, "batch/quince?from=yesterday&until=tomorrow").ToString());
        await Assertions.Expect(page.Locator("[data-move=wider]")).ToHaveCountAsync(0);
        await Assertions.Expect(page.Locator("[data-move=all]")).ToHaveAttributeAsync("aria-current", "true");
        Assert.Empty(errors);
    }

    [Fact]
    public async Task ByKeyboardAndMouse_ThePictureMovesInPlaceAndKeepsTheFocus()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Of(Long()));
        var (page, errors) = await browser.OpenAsync(1280, 900, ColorScheme.Dark);
        await page.GotoAsync(new Uri(site.Root, "batch/quince").ToString());
        await page.EvaluateAsync("() => { window.stayed = true; }");
        var whole = await WindowAsync(page);
        await page.Locator("#curve .moves").FocusAsync();
        await ChangedAsync(page, () => page.Keyboard.PressAsync("+"));
        var near = await WindowAsync(page);
        Assert.Equal((whole.Until - whole.From) / 2, near.Until - near.From, 2000.0);
        await ChangedAsync(page, () => page.Keyboard.PressAsync("ArrowLeft"));
        Assert.True((await WindowAsync(page)).From < near.From);
        Assert.True(await page.EvaluateAsync<bool>("() => document.activeElement.matches('#curve .moves')"));
        await ChangedAsync(page, () => page.Keyboard.PressAsync("0"));
        Assert.Equal(whole, await WindowAsync(page));
        Assert.DoesNotContain("from=", page.Url, StringComparison.Ordinal);

        // Dragged a quarter of the width to the right: earlier by as much.
        await ChangedAsync(page, () => page.Locator("[data-move=closer]").ClickAsync());
        var before = await WindowAsync(page);
        var box = (await page.Locator("#curve svg.wide").BoundingBoxAsync())!;
        await page.Mouse.MoveAsync(box.X + (box.Width / 2), box.Y + (box.Height / 2));
        await page.Mouse.DownAsync();
        await page.Mouse.MoveAsync(box.X + (box.Width * 0.75f), box.Y + (box.Height / 2), new() { Steps = 5 });
        await ChangedAsync(page, () => page.Mouse.UpAsync());
        var after = await WindowAsync(page);
        Assert.InRange((before.From - after.From) / (before.Until - before.From), 0.2, 0.3);
        Assert.True(await page.EvaluateAsync<bool>("() => window.stayed === true && document.documentElement.scrollWidth === document.documentElement.clientWidth"));
        Assert.Empty(errors);
    }

    [Fact]
    public async Task ByTwoFingers_WhatWasBetweenThemFillsThePicture()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Of(Long()));
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Light, hasTouch: true);
        await page.GotoAsync(new Uri(site.Root, "batch/quince").ToString());
        await page.Locator("#curve .moves").ScrollIntoViewIfNeededAsync();
        var before = await WindowAsync(page);
        var box = (await page.Locator("#curve svg.phone").BoundingBoxAsync())!;
        var session = await page.Context.NewCDPSessionAsync(page);
        await ChangedAsync(page, async () =>
        {
            await TouchAsync(session, "touchStart", box, 0.4, 0.6);
            foreach (var apart in (double[])[0.14, 0.18, 0.22, 0.26, 0.3])
            {
                await TouchAsync(session, "touchMove", box, 0.5 - apart, 0.5 + apart);
            }

            await TouchAsync(session, "touchEnd", box);
        });
        var after = await WindowAsync(page);
        // From a fifth of the width to three fifths of it: three times as close.
        Assert.InRange((before.Until - before.From) / (after.Until - after.From), 2.5, 3.5);
        Assert.Empty(errors);
    }

    private static async Task TouchAsync(ICDPSession session, string type, LocatorBoundingBoxResult box, params double[] shares) =>
        await session.SendAsync("Input.dispatchTouchEvent", new Dictionary<string, object>
        {
            ["type"] = type,
            ["touchPoints"] = shares.Select((share, i) => new Dictionary<string, object> { ["x"] = box.X + (box.Width * share), ["y"] = box.Y + (box.Height / 2), ["id"] = i }).ToArray(),
        });

    private static async Task<(double From, double Until)> WindowAsync(IPage page)
    {
        var figure = page.Locator("#curve .moves");
        return (
            double.Parse((await figure.GetAttributeAsync("data-from"))!, CultureInfo.InvariantCulture),
            double.Parse((await figure.GetAttributeAsync("data-until"))!, CultureInfo.InvariantCulture));
    }

    /// <summary>Does something and waits until the picture shows another stretch.</summary>
    private static async Task ChangedAsync(IPage page, Func<Task> act)
    {
        var before = await page.Locator("#curve .moves").GetAttributeAsync("data-from") + await page.Locator("#curve .moves").GetAttributeAsync("data-until");
        await act();
        await page.WaitForFunctionAsync("was => { const it = document.querySelector('#curve .moves').dataset; return it.from + it.until !== was; }", before, new() { Timeout = 60000 });
    }

    /// <summary>Thirty-five days with a reading a minute.</summary>
    private static BoardEntry Long()
    {
        var entry = InventedCellar.MidFerment();
        var end = entry.View.Now;
        var start = end - TimeSpan.FromMinutes(49_999);
        var points = Enumerable.Range(0, 50_000).Select(i => new GravityPoint(
            start + TimeSpan.FromMinutes(i),
            SpecificGravity.FromRatio(1.098 - (0.032 * i / 49_999.0) + (0.0004 * Math.Sin(i * 0.7))), 1));
        return new BoardEntry(
            entry.View with
            {
                Batch = entry.View.Batch with { InoculatedAt = start },
                Gravity = ValueList.Of(points),
                GravityGaps = ValueList.Of<Gap>(),
                SetAside = ValueList.Of<SetAsidePoint>(),
                GravityCounts = new ReadingCounts(50_000, 0),
            },
            ValueList.Of<OpenAlert>());
    }
}
