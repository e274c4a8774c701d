using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.EndToEnd;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Journal;

/// <summary>A batch's own limits on the page, in the reader's units.</summary>
public sealed class LimitsFlowTests(Browser browser) : IClassFixture<Browser>
{
    [Fact]
    public async Task OwnLimits_AreCheckedKeptAndTakenBack()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        var (page, _) = await browser.OpenAsync(390, 844, ColorScheme.Dark);
        await JournalPage.StartAsync(page, service, "Plum wine", 1);
        await page.GetByRole(AriaRole.Link, new() { Name = "Set its alerts" }).ClickAsync();
        await page.GetByText("Dangerous temperature").ClickAsync();
        await JournalPage.CheckAsync(page);
        await Assertions.Expect(page.GetByLabel("Too hot from")).ToHaveValueAsync("32");

        await page.GetByLabel("Too hot from").FillAsync("90");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep these" }).ClickAsync();
        await Assertions.Expect(page.Locator(".field .fault")).ToHaveTextAsync("Too hot from is 90: write a number from 25 to 40\u00a0°C.");

        await page.GetByLabel("Too hot from").FillAsync("30");
        await page.GetByText("Probably stuck").ClickAsync();
        await page.GetByLabel("Odds from which it is told").First.FillAsync("35");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep these" }).ClickAsync();
        await Assertions.Expect(page.Locator(".field .fault")).ToHaveTextAsync("Odds from which it is told (35) must be above Odds below which it is over (35).");
        await page.GetByLabel("Odds from which it is told").First.FillAsync("50");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep these" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Plum wine", Level = 1 })).ToBeVisibleAsync(JournalPage.Patient);
        Assert.Equal("{\"limit-danger-hot\":30}", service.Store.ReadProperties("limits-")["limits-plum-wine"]);

        await page.GotoAsync(new Uri(service.Page, "batch/plum-wine/limits").ToString());
        await page.GetByLabel("Too hot from").FillAsync("");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep these" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Plum wine", Level = 1 })).ToBeVisibleAsync(JournalPage.Patient);
        Assert.Empty(service.Store.ReadProperties("limits-"));
    }
}
