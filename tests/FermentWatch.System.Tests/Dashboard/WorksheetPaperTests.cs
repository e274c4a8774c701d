using System.Net;
using System.Text;
using System.Text.RegularExpressions;
using FermentWatch.Oenology.Worksheets;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Dashboard;

/// <summary>Worksheets on paper, printed by a real browser.</summary>
public sealed partial class WorksheetPaperTests(Browser browser) : IClassFixture<Browser>
{
    [Fact]
    public async Task EveryExampleOfEveryWorksheet_FillsOnePageOfBothUsualSizes()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        var (page, errors) = await browser.OpenAsync(1280, 800, ColorScheme.Dark);
        var printed = 0;
        foreach (var sheet in WorksheetCatalog.All)
        {
            var html = await site.Client.GetStringAsync("bench/" + sheet.Name, TestContext.Current.CancellationToken);
            var examples = ExampleLinks().Matches(html).Select(match => WebUtility.HtmlDecode(match.Groups[1].Value)).ToList();
            Assert.Equal(sheet.Examples.Count, examples.Count);
            foreach (var example in examples)
            {
                await page.GotoAsync(new Uri(site.Root, "bench/" + sheet.Name + example).ToString());
                foreach (var format in (string[])["Letter", "A4"])
                {
                    var paper = Encoding.Latin1.GetString(await page.PdfAsync(new PagePdfOptions { Format = format }));
                    Assert.True(PaperPages().Count(paper) == 1, $"{sheet.Name} {example} takes {PaperPages().Count(paper)} pages of {format}.");
                    printed++;
                }
            }
        }

        Assert.True(printed >= 2 * WorksheetCatalog.All.Count, $"only {printed} papers");
        Assert.Empty(errors);
    }

    [Fact]
    public async Task OnPaper_StepsHaveBoxesToTickAndTheWeighedAmountHasItsLine()
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        var (page, _) = await browser.OpenAsync(800, 1100, ColorScheme.Light);
        await page.GotoAsync(new Uri(site.Root, "bench/restart-plan?sent=yes&volume=20&original-gravity=1.1&present-gravity=1.03&temperature=14&ph=3.4&tolerance=14&sorbate=no").ToString());
        await page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print });
        await Assertions.Expect(page.GetByText("Weighed", new() { Exact = false }).Last).ToBeVisibleAsync();
        Assert.True(await page.EvaluateAsync<double>("() => document.querySelector('.write span').getBoundingClientRect().width") > 200);
        var boxes = await page.EvaluateAsync<int>("() => [...document.querySelectorAll('.result .steps > li')].filter(li => { const box = getComputedStyle(li, '::before'); return box.borderTopStyle === 'solid' && parseFloat(box.width) > 8; }).length");
        Assert.True(boxes >= 10, $"only {boxes} boxes");
        foreach (var hidden in (string[])["nav.tabs", "details", ".record", "form button"])
        {
            Assert.Equal(0, await page.Locator(hidden).EvaluateAllAsync<int>("all => all.filter(one => one.getClientRects().length > 0).length"));
        }
    }

    [GeneratedRegex("<li><a href=\"([?]sent=yes[^\"]+)\"")]
    private static partial Regex ExampleLinks();

    // A page object of a PDF (ISO 32000-1, 7.7.3.3), not the tree of them.
    [GeneratedRegex("/Type\\s*/Page(?![s\\w])")]
    private static partial Regex PaperPages();
}
