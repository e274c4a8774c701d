using FermentWatch.Monitoring.Batches;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.EndToEnd;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Journal;

/// <summary>A batch from its start on the page, on a phone of 390 px, from an empty data directory.</summary>
public sealed class JournalFlowTests(Browser browser) : IClassFixture<Browser>
{
    private static readonly BatchId Plum = new("plum-wine");

    [Fact]
    public async Task BatchStartedAndEntriesTapped_AreWrittenCorrectedAndTakenBack()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await JournalPage.StartAsync(page, service, "Plum wine", daysAgo: 2);
        await JournalPage.CheckAsync(page);

        // One tap writes; a line in place offers to take it back.
        await page.GetByRole(AriaRole.Button, new() { Name = "Stirred or degassed", Exact = true }).ClickAsync();
        await Assertions.Expect(page.Locator(".tapped")).ToContainTextAsync("Written: Stirred or degassed");
        await JournalPage.CheckAsync(page);
        Assert.Single(service.Store.ReadJournal(Plum));
        await page.Locator(".tapped").GetByRole(AriaRole.Button, new() { Name = "Undo" }).ClickAsync();
        await Assertions.Expect(page.Locator(".tapped")).ToContainTextAsync("Taken back: Stirred or degassed");
        Assert.True(Assert.Single(service.Store.ReadJournal(Plum)).Undone);
        await page.GetByText("1 taken back").ClickAsync();
        await Assertions.Expect(page.Locator(".undone s")).ToContainTextAsync("Stirred or degassed");

        // An entry with a number opens its short form; a slip is named with what would be right, and what was typed stays.
        await page.GetByText("35 more kinds of entry").ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Racked…" }).ClickAsync();
        await page.GetByLabel("Measured volume").FillAsync("0");
        await page.GetByLabel("In your own words").FillAsync("onto clean glass");
        await page.GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
        await Assertions.Expect(page.Locator(".field .fault")).ToHaveTextAsync("Measured volume is 0: write a number from 0.1 to 100000 L.");
        await Assertions.Expect(page.GetByLabel("In your own words")).ToHaveValueAsync("onto clean glass");
        await JournalPage.CheckAsync(page);
        await page.GetByLabel("Measured volume").FillAsync("18,5");
        await page.GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
        await Assertions.Expect(page.Locator(".tapped")).ToContainTextAsync("Racked: 18.5 L");

        // A correction keeps the old value and the reason.
        await page.Locator(".tapped").GetByRole(AriaRole.Link, new() { Name = "Change" }).ClickAsync();
        await page.GetByLabel("Measured volume").FillAsync("17.5");
        await page.GetByLabel("Why it is corrected").FillAsync("read the wrong mark");
        await JournalPage.CheckAsync(page);
        await page.GetByRole(AriaRole.Button, new() { Name = "Write the correction" }).ClickAsync();
        var first = page.Locator(".pages > li").First;
        await Assertions.Expect(first).ToContainTextAsync("Racked: 17.5 L");
        await Assertions.Expect(first.Locator("s")).ToContainTextAsync("18.5 L");
        await Assertions.Expect(first).ToContainTextAsync("Because: read the wrong mark.");
        await Assertions.Expect(page.GetByText("17.5 L").First).ToBeVisibleAsync();
        Assert.Equal(3, service.Store.ReadJournal(Plum).Count);
        // The answer with the faults is a 422, which the browser notes by itself.
        Assert.DoesNotContain(errors, error => !error.Contains("422", StringComparison.Ordinal));
    }

    // The picture comes in above the bar, and with it every part below stands at another place.
    [Fact]
    public async Task PageRenewedWhileAListIsOpen_TheListStaysOpen()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await JournalPage.StartAsync(page, service, "Plum wine", daysAgo: 12);
        await page.GotoAsync(new Uri(service.Page, "batch/plum-wine").ToString());
        await page.GetByText("35 more kinds of entry").ClickAsync();
        var fined = page.GetByRole(AriaRole.Link, new() { Name = "Fined…", Exact = true });
        await Assertions.Expect(fined).ToBeVisibleAsync();
        await Assertions.Expect(page.Locator("figure.pic")).ToHaveCountAsync(0);

        var (other, _) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await other.GotoAsync(new Uri(service.Page, "batch/plum-wine").ToString());
        await JournalPage.OpenAsync(other, "Hand reading");
        await other.GetByLabel("Gravity as read").FillAsync("1.070");
        await JournalPage.WriteAsync(other, "1.070");

        await Assertions.Expect(page.Locator("figure.pic").First).ToBeVisibleAsync(JournalPage.Patient);
        await Assertions.Expect(fined).ToBeVisibleAsync();
        Assert.True(await page.EvaluateAsync<bool>("() => document.querySelector('#bar details').open"));
        Assert.Empty(errors);
    }

    [Fact]
    public async Task HandReadingsAlone_MakeACurveAndAnAlcohol()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        var (page, _) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await JournalPage.StartAsync(page, service, "Plum wine", daysAgo: 12);
        foreach (var (daysAgo, gravity) in ((int, string)[])[(9, "1.070"), (6, "1.034"), (3, "1.012"), (0, "1.004")])
        {
            await page.GetByRole(AriaRole.Link, new() { Name = "Hand reading…" }).ClickAsync();
            await page.GetByLabel("Gravity as read").FillAsync(gravity);
            if (daysAgo == 0)
            {
                // One tap tells it; without one nothing is told.
                await Assertions.Expect(page.GetByRole(AriaRole.Radio, new() { Name = "not told" })).ToBeCheckedAsync();
                await page.GetByRole(AriaRole.Radio, new() { Name = "degassed", Exact = true }).CheckAsync();
                await JournalPage.CheckAsync(page);
                await JournalPage.PictureAsync(page, "journal-hand-reading");
            }

            await page.GetByLabel("When").FillAsync(JournalPage.Days(daysAgo));
            await page.GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
            await Assertions.Expect(page.Locator(".tapped")).ToContainTextAsync(gravity + "\u00a0SG");
        }

        await Assertions.Expect(page.Locator(".pages > li").First).ToContainTextAsync("1.004\u00a0SG, degassed");
        Assert.Equal([null, null, null, "yes"], service.Store.ReadJournal(Plum).OrderBy(entry => entry.At).Select(entry => entry.Word("degassed")));
        await Assertions.Expect(page.GetByText("The same as a table, 4 rows")).ToBeVisibleAsync(JournalPage.Patient);
        await Assertions.Expect(page.Locator("svg.phone .hand").First).ToBeVisibleAsync(JournalPage.Patient);
        await Assertions.Expect(page.GetByRole(AriaRole.Row, new() { Name = "Alcohol" }).First).ToContainTextAsync("% vol");
        await Assertions.Expect(page.Locator(".phase").First).ToContainTextAsync("slowing");
        await JournalPage.CheckAsync(page);
    }

    [Fact]
    public async Task BatchOfThePage_IsEditedPutAwayAndTakenBack()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        var (page, _) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await JournalPage.StartAsync(page, service, "Plum wine", daysAgo: 2);
        await page.GetByRole(AriaRole.Link, new() { Name = "Edit this batch" }).ClickAsync();
        await page.GetByLabel("Name", new() { Exact = true }).FillAsync("Damson wine");
        await page.GetByLabel("Lowest temperature for the yeast").FillAsync("16");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep the changes" }).ClickAsync();
        await Assertions.Expect(page.Locator(".field .fault")).ToHaveTextAsync("Highest temperature for the yeast is empty: write a number from -5 to 45 °C.");
        await JournalPage.CheckAsync(page);
        await page.GetByLabel("Highest temperature for the yeast").FillAsync("22");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep the changes" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Damson wine" })).ToBeVisibleAsync(JournalPage.Patient);

        await page.GetByRole(AriaRole.Link, new() { Name = "Edit this batch" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Finished: put it away" }).ClickAsync();
        await Assertions.Expect(page.GetByText("Damson wine.")).ToBeVisibleAsync();
        await JournalPage.CheckAsync(page);
        await page.GetByRole(AriaRole.Button, new() { Name = "Back into the book" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Damson wine" })).ToBeVisibleAsync(JournalPage.Patient);
    }
}
