using FermentWatch.Monitoring.Batches;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.EndToEnd;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Journal;

/// <summary>Forms read °Plato, °F, gallons and ounces with a decimal comma; what is stored is SG, °C, liters and grams.</summary>
public sealed class FormUnitsTests(Browser browser) : IClassFixture<Browser>
{
    // 22 °P is SG 1.09189 and 14 °P 1.05679, each ± 0.00003: ICUMSA SPS-4 in Bubnik et al. (1995), Sugar Technologists Manual, p. 164.
    // A US gallon is 3.785411784 L, a pound 453.59237 g, an ounce a sixteenth of that: NIST SP 811 (2008), appendix B.8.
    private const double Gallon = 3.785411784;
    private const double Pound = 453.59237;

    private static readonly BatchId Plum = new("plum-wine");

    [Fact]
    public async Task NumbersInTheReadersUnits_AreStoredInTheUsualOnesAndStayWhenNothingIsChanged()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        var (page, _) = await browser.OpenAsync(390, 844, ColorScheme.Dark);
        await ChooseAsync(page, service);
        await StartAsync(page, service);
        var batch = Stored(service);
        Assert.Equal(5.25 * Gallon, batch.Volume!.Value.Liters, 1e-6);
        Assert.Equal(1.09189, batch.OriginalGravity!.Value.Value, 0.00004);
        Assert.Equal(0.4 * Gallon, batch.Headspace!.Value.Liters, 1e-6);
        Assert.Equal(15, batch.TemperatureBand!.Low.Celsius, 1e-6);
        Assert.Equal(25, batch.TemperatureBand.High.Celsius, 1e-6);
        var aging = Assert.Single(batch.StageBands);
        Assert.Equal((10.0, 20.0), (Math.Round(aging.Band.Low.Celsius, 6), Math.Round(aging.Band.High.Celsius, 6)));

        await JournalPage.OpenAsync(page, "Hand reading");
        await page.GetByLabel("Gravity as read").FillAsync("14,0");
        await page.GetByLabel("Temperature of the sample").FillAsync("68");
        await JournalPage.WriteAsync(page, "Hand reading: 14,0\u00a0°P, 68\u00a0°F");
        await JournalPage.OpenAsync(page, "Fined");
        await page.GetByLabel("Fining agent").FillAsync("bentonite");
        await page.GetByLabel("Amount").FillAsync("1,5");
        await JournalPage.WriteAsync(page, "bentonite, 1,5\u00a0oz");
        await JournalPage.OpenAsync(page, "Sugar or honey");
        await page.GetByLabel("What", new() { Exact = true }).SelectOptionAsync("honey");
        await page.GetByLabel("Amount").FillAsync("2,5");
        await JournalPage.WriteAsync(page, "2,5\u00a0lb");
        await JournalPage.OpenAsync(page, "Racked");
        await page.GetByLabel("Measured volume").FillAsync("0,001");
        await page.GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
        await Assertions.Expect(page.Locator(".field .fault")).ToHaveTextAsync("Measured volume is 0,001: write a number from 0,0265 to 26400\u00a0gal.");
        await page.GetByLabel("Measured volume").FillAsync("4,75");
        await JournalPage.WriteAsync(page, "4,75\u00a0gal");

        var journal = service.Store.ReadJournal(Plum).ToDictionary(entry => entry.Kind);
        Assert.Equal(1.05679, journal[JournalKind.MeasuredByHand].Gravity!.Value.Value, 0.00004);
        Assert.Equal(20, journal[JournalKind.MeasuredByHand].Number("sample-temperature")!.Value, 1e-9);
        Assert.Equal(1.5 * Pound / 16, journal[JournalKind.Fined].Number("grams")!.Value, 1e-6);
        Assert.Equal(2.5 * Pound / 1000, journal[JournalKind.SugarAdded].Number("kilograms")!.Value, 1e-9);
        Assert.Equal(4.75 * Gallon, journal[JournalKind.Racked].Number("volume")!.Value, 1e-6);
        await JournalPage.PictureAsync(page, "journal-units-dark");

        // Looked at and kept: rounding to the digits of the form must not creep into what is stored.
        await page.GetByRole(AriaRole.Link, new() { Name = "Edit this batch" }).ClickAsync();
        await Assertions.Expect(page.GetByLabel("Original gravity")).ToHaveValueAsync("22,0");
        await page.GetByLabel("Goal").FillAsync("dry");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep the changes" }).ClickAsync();
        await Assertions.Expect(page.GetByText("dry").First).ToBeVisibleAsync(JournalPage.Patient);
        Assert.Equal(batch with { Goal = "dry" }, Stored(service));
    }

    private static async Task ChooseAsync(IPage page, RunningService service)
    {
        await page.GotoAsync(new Uri(service.Page, "preferences/units").ToString());
        foreach (var choice in (string[])["plato", "fahrenheit", "gallons", "ounces"])
        {
            await page.Locator($"input[value='{choice}']").CheckAsync();
        }

        await page.Locator("main button[type=submit]").ClickAsync();
        await page.GotoAsync(new Uri(service.Page, "preferences/numbers").ToString());
        await page.Locator("input[value='comma']").CheckAsync();
        await page.Locator("main button[type=submit]").ClickAsync();
    }

    private static async Task StartAsync(IPage page, RunningService service)
    {
        await page.GotoAsync(new Uri(service.Page, "start").ToString());
        await page.GetByLabel("Name", new() { Exact = true }).FillAsync("Plum wine");
        await page.GetByLabel("Volume", new() { Exact = true }).FillAsync("5,25");
        await page.GetByLabel("Original gravity").FillAsync("22,0");
        await page.GetByLabel("Yeast in").FillAsync(JournalPage.Days(2));
        await page.GetByText("Yeast, temperature, goal").ClickAsync();
        await page.GetByLabel("Headspace").FillAsync("0,4");
        await page.GetByLabel("Lowest temperature for the yeast").FillAsync("59");
        await page.GetByLabel("Highest temperature for the yeast").FillAsync("77");
        await page.GetByText("Temperatures of the later stages").ClickAsync();
        await Assertions.Expect(page.GetByText("cold crash 28,4 to 42,8\u00a0°F")).ToBeVisibleAsync();
        await page.GetByLabel("Aging: lowest").FillAsync("68");
        await page.GetByLabel("Aging: highest").FillAsync("50");
        await page.GetByRole(AriaRole.Button, new() { Name = "Start a batch" }).ClickAsync();
        await Assertions.Expect(page.Locator("details .fault")).ToHaveTextAsync("Aging: highest is 50 °F, Aging: lowest is 68 °F: the highest must be above the lowest.");
        await JournalPage.CheckAsync(page);
        await JournalPage.PictureAsync(page, "start-units-dark");
        await page.GetByLabel("Aging: lowest").FillAsync("50");
        await page.GetByLabel("Aging: highest").FillAsync("68");
        await page.GetByRole(AriaRole.Button, new() { Name = "Start a batch" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Write in the book" })).ToBeVisibleAsync(JournalPage.Patient);
    }

    private static Batch Stored(RunningService service) => service.Store.ReadBatch(Plum)!.Facts.Batch;
}
