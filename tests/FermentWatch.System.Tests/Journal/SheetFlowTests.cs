using FermentWatch.Monitoring.Batches;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Preferences;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Journal;

/// <summary>From a worksheet into the book of a batch, on a phone of 390 px.</summary>
public sealed class SheetFlowTests(Browser browser) : IClassFixture<Browser>
{
    [Fact]
    public async Task TanninWeighed_IsShownFilledInWrittenWatchedAndTakenBack()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Dark);
        await JournalPage.StartAsync(page, service, "Plum wine", daysAgo: 2);
        await page.GotoAsync(new Uri(service.Page, "bench/tannin-powder?batch=plum-wine").ToString());
        await page.Locator("#dose").FillAsync("200");
        // 20 L x 200 mg/L = 4 g, in steps.
        await Assertions.Expect(page.Locator("#result .amt").First).ToContainTextAsync("g");
        await JournalPage.CheckAsync(page);
        await JournalPage.PictureAsync(page, "sheet-record-390");
        var way = page.Locator(".record a.btn").First;
        await Assertions.Expect(way).ToContainTextAsync("Tannin added");
        await Assertions.Expect(page.Locator(".record")).ToContainTextAsync("14 days");
        await way.ClickAsync();

        // Filled in, to be confirmed: opening it wrote nothing.
        await Assertions.Expect(page.GetByLabel("In your own words")).ToHaveValueAsync(new global::System.Text.RegularExpressions.Regex("^By the worksheet"));
        var grams = await page.Locator("#grams").InputValueAsync();
        Assert.True(double.Parse(grams, global::System.Globalization.CultureInfo.InvariantCulture) > 0, grams);
        Assert.Empty(service.Store.ReadJournal(new BatchId("plum-wine")));
        await JournalPage.CheckAsync(page);
        await page.GetByLabel("In your own words").FillAsync(await page.GetByLabel("In your own words").InputValueAsync() + ". Wren stirred.");
        await JournalPage.WriteAsync(page, $"Tannin added: tannin powder, {grams} g");
        var entry = Assert.Single(service.Store.ReadJournal(new BatchId("plum-wine")));
        Assert.Equal(JournalKind.TanninAdded, entry.Kind);

        // Whoever reads German reads the worksheet's part in German, the maker's own words as they are; a correction keeps both.
        var book = page.Url;
        using (var site = new HttpClient { BaseAddress = service.Page })
        {
            await LanguageTests.ChooseAsync(site, "de");
            await page.ReloadAsync();
            await Assertions.Expect(page.Locator(".tapped")).ToContainTextAsync(new global::System.Text.RegularExpressions.Regex("Nach dem Rechenblatt „.+“: .+\\. Wren stirred\\."));
            await page.GotoAsync(new Uri(service.Page, $"batch/plum-wine/journal/{entry.Id}/correct").ToString());
            await Assertions.Expect(page.Locator("#text")).ToHaveValueAsync(new global::System.Text.RegularExpressions.Regex("^Nach dem Rechenblatt"));
            await page.Locator("#grams").FillAsync("3");
            await page.Locator("main form.sheet button[type=submit]").ClickAsync();
            await page.WaitForURLAsync("**/batch/plum-wine?written=*");
            await LanguageTests.ChooseAsync(site, "en");
        }

        var corrected = service.Store.ReadJournal(new BatchId("plum-wine")).Single(one => one.Supersedes == entry.Id);
        Assert.Equal("sheet/tannin-powder", corrected.Filled?.Key);
        await page.ReloadAsync();
        await Assertions.Expect(page.Locator(".tapped")).ToContainTextAsync("By the worksheet");
        Assert.NotEqual(book, page.Url);
        await page.Locator(".tapped").GetByRole(AriaRole.Button, new() { Name = "Undo" }).ClickAsync();
        await Assertions.Expect(page.Locator(".tapped")).ToContainTextAsync("Taken back: Tannin added");
        Assert.True(service.Store.ReadJournal(new BatchId("plum-wine")).Single(one => one.Id == corrected.Id).Undone);
        Assert.Empty(errors);
    }
}
