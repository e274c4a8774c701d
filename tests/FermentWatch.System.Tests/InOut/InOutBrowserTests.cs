using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Text.Json.Nodes;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using FermentWatch.Monitoring.Batches;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Mqtt;
using FermentWatch.System.Tests.Notifiers;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.InOut;

/// <summary>Import, export, channels and work on a vessel on a phone of 390 pixels, each from an empty data directory.</summary>
public sealed class InOutBrowserTests(Browser browser) : IClassFixture<Browser>
{
    [Fact]
    public async Task FileWithDecimalCommasAndMistakes_IsLookedOverStoredAndDrawn()
    {
        var start = DateTime.UtcNow.Date.AddDays(-10);
        await using var service = await RunningService.StartAsync(file =>
            file["Batches"] = new JsonArray(CellarWithBatch.Batch("heather", "Heather mead", start.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture))));
        await Eventually.TrueAsync(() => Get(service, "batch/heather").Contains("Heather mead", StringComparison.Ordinal), "no batch on the board");
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Dark);
        await page.GotoAsync(new Uri(service.Page, "settings").AbsoluteUri);
        await page.GetByRole(AriaRole.Link, new() { Name = "Import readings" }).ClickAsync();
        await CheckAsync(page);
        await page.GetByLabel("File", new() { Exact = true }).SetInputFilesAsync(new FilePayload { Name = "attic float.csv", MimeType = "text/csv", Buffer = Encoding.UTF8.GetBytes(Rows(start)) });
        await page.GetByRole(AriaRole.Button, new() { Name = "Look it over" }).ClickAsync();

        await Assertions.Expect(page.Locator("main")).ToContainTextAsync("240 of 243 rows give 480 readings");
        await Assertions.Expect(page.Locator("main")).ToContainTextAsync("2 of the readings come twice");
        await page.Locator("summary").ClickAsync();
        await Assertions.Expect(page.Locator("main")).ToContainTextAsync("is no date and time as chosen");
        await Assertions.Expect(page.Locator("main")).ToContainTextAsync("expected 0.9 to 1.3");
        Assert.Equal(20, await page.Locator("tbody tr").CountAsync());
        await CheckAsync(page);
        await page.GetByLabel("Batch", new() { Exact = true }).SelectOptionAsync("heather");
        await page.GetByLabel("Time zone of times without one").FillAsync("Europe/Belrin");
        await page.GetByRole(AriaRole.Button, new() { Name = "Store" }).ClickAsync();
        await Assertions.Expect(page.Locator("main")).ToContainTextAsync("The nearest known zone is 'Europe/Berlin'");
        await page.GetByLabel("Time zone of times without one").FillAsync("UTC");
        await page.GetByRole(AriaRole.Button, new() { Name = "Read it this way" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Store 478 readings" }).ClickAsync();
        await Assertions.Expect(page.Locator("main")).ToContainTextAsync("478 readings are stored. 2 were there already.", new() { Timeout = 60_000 });
        await CheckAsync(page);
        var refused = await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Link, new() { Name = "Those rows as a file" }).ClickAsync());
        var lines = await File.ReadAllLinesAsync((await refused.PathAsync())!, TestContext.Current.CancellationToken);
        Assert.Equal(4, lines.Length);
        await page.GetByRole(AriaRole.Link, new() { Name = "To the batch" }).ClickAsync();
        await Eventually.TrueAsync(() => Get(service, "batch/heather").Contains("class=\"measured\"", StringComparison.Ordinal), "no curve");
        Assert.Equal(478, service.Store.ReadCounts().ReadingsStored);
        // The one 422 of the wrong zone is noted by the browser itself.
        errors.RemoveAll(error => error.Contains("422", StringComparison.Ordinal));
        Assert.Empty(errors);

        await page.ReloadAsync();
        var download = await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Link, new() { Name = "Readings as a table (CSV)" }).ClickAsync());
        Assert.Equal(479, (await File.ReadAllLinesAsync((await download.PathAsync())!, TestContext.Current.CancellationToken)).Length);
        await page.GotoAsync(new Uri(service.Page, "settings").AbsoluteUri);
        var everything = await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Link, new() { Name = "Export everything" }).ClickAsync());
        await using var zip = await ZipFile.OpenReadAsync((await everything.PathAsync())!, TestContext.Current.CancellationToken);
        Assert.Equal(
            ["about.json", "batches.json", "mappings.json", "calibrations.json", "journals/heather.csv", "readings/001-attic-float.csv"],
            zip.Entries.Select(entry => entry.FullName).Where(name => !name.StartsWith("restore/", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task NothingHandedIn_IsToldOnTheSamePage()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        var (page, _) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await page.GotoAsync(new Uri(service.Page, "import").AbsoluteUri);
        await page.GetByRole(AriaRole.Button, new() { Name = "Look it over" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync("choose a file, or paste some rows");
        await CheckAsync(page);
    }

    [Fact]
    public async Task TestOfTheMailChannel_ArrivesAndIsToldInWords()
    {
        await using var sink = await MailSink.StartAsync();
        await using var service = await RunningService.StartAsync(file => file["Mail"] = new JsonObject
        {
            ["Host"] = "127.0.0.1",
            ["Port"] = sink.Port,
            ["Security"] = "none",
            ["From"] = "cellar@example.org",
            ["To"] = "maker@example.org",
        });
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await page.GotoAsync(new Uri(service.Page, "settings").AbsoluteUri);
        await page.GetByRole(AriaRole.Link, new() { Name = "How notices reach you" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Send a test E-mail" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Status)).ToContainTextAsync("the channel took it");
        await CheckAsync(page);
        Assert.Contains("Subject: FermentWatch can reach you", sink.Text, StringComparison.Ordinal);
        Assert.Empty(errors);
    }

    [Fact]
    public async Task WorkOnTwoVessels_IsConfirmedShownAndDone()
    {
        await using var service = await RunningService.StartAsync(file =>
        {
            file["Page"]!["BaseUrl"] = "http://cellar.example:5080/base";
            file["Batches"] = new JsonArray(
                CellarWithBatch.Batch("heather", "Heather mead", "2026-11-01T08:00:00Z"), CellarWithBatch.Batch("sloe", "Sloe wine", "2026-11-02T08:00:00Z"));
        });
        await Eventually.TrueAsync(() => Get(service, "").Contains("Sloe wine", StringComparison.Ordinal), "no batch on the board");
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await page.GotoAsync(new Uri(service.Page, "batch/heather/label").AbsoluteUri);
        await Assertions.Expect(page.GetByRole(AriaRole.Img)).ToHaveAttributeAsync("aria-label", "Code that opens http://cellar.example:5080/base/work/heather");
        await CheckAsync(page);

        // Opening the page changes nothing.
        await page.GotoAsync(new Uri(service.Page, "work/heather").AbsoluteUri);
        await CheckAsync(page);
        Assert.Empty(service.Store.ReadBatch(new BatchId("heather"))!.Facts.Work);
        await page.GetByLabel("Sloe wine").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Start" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Status)).ToContainTextAsync("At work on this vessel until");
        await CheckAsync(page);
        foreach (var id in (string[])["heather", "sloe"])
        {
            var span = Assert.Single(service.Store.ReadBatch(new BatchId(id))!.Facts.Work);
            Assert.Equal(TimeSpan.FromHours(3), span.Until - span.From);
        }

        await page.GotoAsync(service.Page.AbsoluteUri);
        await page.GetByRole(AriaRole.Button, new() { Name = "Done Heather mead" }).ClickAsync();
        await Assertions.Expect(page.Locator("main")).Not.ToContainTextAsync("At work on this vessel");
        Assert.Empty(errors);
    }

    [Fact]
    public async Task LabelWithoutAnAddress_SaysWhatToSet()
    {
        await using var service = await RunningService.StartAsync(file => file["Batches"] = new JsonArray(CellarWithBatch.Batch("heather", "Heather mead", "2026-11-01T08:00:00Z")));
        await Eventually.TrueAsync(() => Get(service, "batch/heather/label").Contains("Page:BaseUrl", StringComparison.Ordinal), "the setting is not named");
    }

    private static string Rows(DateTime start)
    {
        var text = new StringBuilder("Zeit;Dichte (gravity);Temperatur;Notiz\r\n");
        for (var hour = 0; hour < 240; hour++)
        {
            var gravity = 1.098 - (0.080 * hour / 240);
            text.Append(start.AddHours(hour).ToString("dd.MM.yyyy HH:mm", CultureInfo.InvariantCulture)).Append(';')
                .Append(gravity.ToString("F4", CultureInfo.InvariantCulture).Replace('.', ',')).Append(";20,4;\"so; far\"\r\n");
        }

        text.Append("yesterday;1,02;20;\r\n").Append(start.AddHours(239.5).ToString("dd.MM.yyyy HH:mm", CultureInfo.InvariantCulture)).Append(";9,9;;\r\n")
            .Append(start.AddHours(300).AddDays(30).ToString("dd.MM.yyyy HH:mm", CultureInfo.InvariantCulture)).Append(";1,01;20;\r\n");
        return text.ToString().Replace(start.AddHours(239).ToString("dd.MM.yyyy HH:mm", CultureInfo.InvariantCulture) + ";1,0183", start.AddHours(238).ToString("dd.MM.yyyy HH:mm", CultureInfo.InvariantCulture) + ";1,0187", StringComparison.Ordinal);
    }

    private static string Get(RunningService service, string path)
    {
        using var client = new HttpClient();
        using var answer = client.Send(new HttpRequestMessage(HttpMethod.Get, new Uri(service.Page, path)));
        using var reader = new StreamReader(answer.Content.ReadAsStream());
        return reader.ReadToEnd();
    }

    private static async Task CheckAsync(IPage page)
    {
        Assert.Equal(0, await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth - document.documentElement.clientWidth"));
        var whole = await page.EvaluateAsync<int>("() => document.documentElement.scrollHeight");
        await page.SetViewportSizeAsync(390, Math.Max(844, whole));
        var found = await page.RunAxe(new AxeRunOptions { RunOnly = RunOnlyOptions.Tags("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa") });
        Assert.True(found.Violations.Length == 0, $"{page.Url}: {string.Join("; ", found.Violations.Select(v => v.Id + " " + string.Join(", ", v.Nodes.Select(node => node.Html))))}");
        await page.SetViewportSizeAsync(390, 844);
    }
}
