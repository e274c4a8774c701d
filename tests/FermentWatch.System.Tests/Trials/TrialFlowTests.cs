using System.Text.Json.Nodes;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Service.Access;
using FermentWatch.Service.Dashboard.Trials;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.InOut;
using FermentWatch.System.Tests.Journal;
using FermentWatch.System.Tests.Mqtt;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Trials;

/// <summary>The whole bench trial on a phone: planned, mixed, tasted by a guest on another phone and on paper, chosen, scaled up.</summary>
public sealed class TrialFlowTests(Browser browser, ITestOutputHelper output) : IClassFixture<Browser>
{
    private const int MostTaps = 20;

    private static readonly BatchId Elder = new("elder");

    // On paper: where the control, the rising doses and the twin stand in the order.
    private static readonly string[] Places = ["5", "3", "1", "4", "2"];

    private static readonly LocatorAssertionsToHaveTextOptions PatientText = new() { Timeout = 60000 };

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task FiveGlassTrial_IsPlannedToItsMixingSheetInFewTaps()
    {
        await using var service = await StartAsync();
        var (page, errors) = await OpenAsync();
        var taps = 0;
        await page.GotoAsync(new Uri(service.Page, "batch/elder").ToString());
        await TapAsync(page.GetByRole(AriaRole.Link, new() { Name = "Plan a bench trial" }));

        // The first time it asks what is weighed with.
        await Assertions.Expect(page.Locator("h1")).ToHaveTextAsync("What you measure with", PatientText);
        await CheckAsync(page, "trial-instruments");
        await TypeAsync("scale-capacity-1", "200");
        await TypeAsync("scale-division-1", "0.01");
        await TypeAsync("syringe-capacity", "10");
        await TypeAsync("syringe-division", "0.2");
        await TapAsync(page.GetByRole(AriaRole.Button, new() { Name = "Keep, and plan the trial" }));

        await Assertions.Expect(page.Locator("h1")).ToHaveTextAsync("Plan a trial for Elderberry", PatientText);
        await CheckAsync(page, "trial-plan");
        await TypeAsync("who", "Wren, Otis, Pim");
        await TapAsync(page.GetByRole(AriaRole.Button, new() { Name = "Plan it" }));

        await Assertions.Expect(page.Locator("h1")).ToHaveTextAsync("How sweet? Elderberry", PatientText);
        await Assertions.Expect(page.Locator("#plan .say")).ToContainTextAsync("Five coded glasses climb from none to 15");
        Assert.Equal(4, await page.Locator("table.mixing tbody tr").CountAsync());
        await CheckAsync(page, "trial-mixing");
        foreach (var format in (string[])["A4", "Letter"])
        {
            var printed = global::System.Text.Encoding.Latin1.GetString(await page.PdfAsync(new() { Format = format }));
            // One object of type Page for each sheet of paper (ISO 32000-1, 7.7.3.3).
            Assert.Single(global::System.Text.RegularExpressions.Regex.Matches(printed, @"/Type\s*/Page[^s]"));
        }

        output.WriteLine($"{taps} taps from the batch to the mixing sheet, instruments included");
        Assert.InRange(taps, 5, MostTaps);
        Assert.Empty(errors);
        var stored = Assert.Single(service.Store.ReadTrials(Elder));
        Assert.Equal(5, stored.Trial.Current.Glasses.Length);
        Assert.Equal(18.6, stored.Trial.Request.Wine.VolumeLiters);

        async Task TapAsync(ILocator place)
        {
            taps++;
            await place.ClickAsync();
        }

        async Task TypeAsync(string field, string text)
        {
            taps++;
            await page.Locator("#" + field).FillAsync(text);
        }
    }

    [Fact]
    public async Task WholeTrial_FromPlanToTheBook()
    {
        await using var service = await StartAsync();
        await new BenchInstruments([new WeighingScale("pocket scale", 200, 0.01, 0.005), new WeighingScale("kitchen scale", 5000, 1)], new DosingSyringe(10, 0.2), 1).WriteAsync(service.Store, Stop);
        var (page, errors) = await OpenAsync();
        await SetPasswordAsync(page, service);
        await page.GotoAsync(new Uri(service.Page, "trials/new?batch=elder").ToString());
        await page.Locator("#who").FillAsync("Wren, Otis, Pim");
        await ButtonOf(page, "Plan it").ClickAsync();
        var id = Assert.Single(service.Store.ReadTrials(Elder)).Id;
        var trial = service.Store.ReadTrial(id)!.Trial;

        // One tick of the mixing sheet.
        var first = trial.Current.Glasses[0].Code;
        await ButtonOf(page, first + " is mixed").ClickAsync();
        await Assertions.Expect(ButtonOf(page, first + " is not mixed after all")).ToBeVisibleAsync(JournalPage.Patient);
        Assert.Equal([first], service.Store.ReadTrial(id)!.Work.Mixed);

        await page.GetByRole(AriaRole.Link, new() { Name = "Start tasting" }).ClickAsync();
        await CheckAsync(page, "trial-tasting-before");
        await ButtonOf(page, "Let guests in").ClickAsync();
        var code = await page.Locator(".codeword").InnerTextAsync();
        await CheckAsync(page, "trial-tasting");

        await GuestAsync(service, code, trial, likes: ["3", "5", "8", "8", "6"]);
        await PaperAsync(page, service, id, "Wren", ["4", "5", "8", "7", "5"]);
        await PaperAsync(page, service, id, "Otis", ["2", "6", "7", "7", "4"]);
        Assert.Equal(15, service.Store.ReadTrial(id)!.Trial.Current.Scores.Length);
        Assert.Equal(3, service.Store.ReadTrial(id)!.Trial.Current.Rankings.Length);

        await ButtonOf(page, "Close the tasting, show the result").ClickAsync();
        await Assertions.Expect(page.Locator(".say").First).ToContainTextAsync("Sugar: about 10", new() { Timeout = 60000 });
        await CheckAsync(page, "trial-result");
        var winner = trial.Current.Glasses.First(glass => glass.DosesGramsPerLiter[0] == 10).Code;
        await page.GetByRole(AriaRole.Button, new() { NameRegex = new global::System.Text.RegularExpressions.Regex("^" + winner) }).ClickAsync();

        await CheckAsync(page, "trial-volume");
        await page.Locator("#volume").FillAsync("18.1");
        await page.Locator("#stabilized").SelectOptionAsync("yes");
        await ButtonOf(page, "Show the amounts").ClickAsync();
        await Assertions.Expect(page.Locator(".weigh.big .amt")).ToBeVisibleAsync(JournalPage.Patient);
        await CheckAsync(page, "trial-scale");
        await ButtonOf(page, "Step 1 is done").ClickAsync();
        await Assertions.Expect(ButtonOf(page, "Step 1 is not done after all")).ToBeVisibleAsync(JournalPage.Patient);
        await page.GetByRole(AriaRole.Button, new() { Name = "went in" }).First.ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "written" }).First).ToBeVisibleAsync(JournalPage.Patient);

        // Three quarters of 10 g/L in 18.1 L: mass balance with sugar's own volume, 0.62 mL/g: 10 · 18.1/(1 - 0.0062) · 0.75 = 136.6 g.
        var journal = service.Store.ReadJournal(Elder);
        var sugar = Assert.Single(journal, entry => entry.Kind == JournalKind.Sweetened);
        Assert.InRange(sugar.Number("kilograms")!.Value, 0.135, 0.138);
        Assert.Equal("sugar", sugar.Word("sweetener"));
        Assert.InRange(Assert.Single(journal, entry => entry.Kind == JournalKind.Tasted).Number("sample")!.Value, 300, 1200);
        await ButtonOf(page, "All is in").ClickAsync();
        await Assertions.Expect(page.GetByText("This trial is done.")).ToBeVisibleAsync(JournalPage.Patient);
        Assert.Equal(TrialState.Done, service.Store.ReadTrial(id)!.State);
        await page.GotoAsync(new Uri(service.Page, "trials").ToString());
        await CheckAsync(page, "trials");
        Assert.Empty(errors);
    }

    private async Task GuestAsync(RunningService service, string code, BenchTrial trial, string[] likes)
    {
        var (phone, errors) = await OpenAsync(ColorScheme.Dark);
        await phone.GotoAsync(new Uri(service.Page, "tasting").ToString());
        await CheckAsync(phone, "guest-code");
        await phone.GetByLabel("Guest code").FillAsync(code.ToLowerInvariant().Replace("-", " ", StringComparison.Ordinal));
        await ButtonOf(phone, "Come in").ClickAsync();
        await Assertions.Expect(phone.Locator("h1")).ToHaveTextAsync("Who are you?", PatientText);
        await CheckAsync(phone, "guest-name");
        await ButtonOf(phone, "Pim").ClickAsync();
        foreach (var glass in trial.Current.CodesFor(2))
        {
            await Assertions.Expect(phone.Locator("h1")).ToHaveTextAsync("Glass " + glass, PatientText);
            var place = trial.Current.Glasses.ToList().FindIndex(one => one.Code == glass);
            var dose = trial.Current.Find(glass)!.DosesGramsPerLiter[0];
            await phone.Locator($"input[name=sweet][value={(dose < 10 ? "too-little" : dose > 10 ? "too-much" : "right")}]").CheckAsync();
            await phone.Locator("input[name=acid][value=right]").CheckAsync();
            await phone.Locator($"input[name=liking][value='{likes[place]}']").CheckAsync();
            await phone.GetByLabel("Words for it").FillAsync("dark fruit");
            if (glass == trial.Current.CodesFor(2)[1])
            {
                await CheckAsync(phone, "guest-glass");
            }

            Assert.DoesNotContain("g/L", await phone.Locator("main").InnerTextAsync(), StringComparison.Ordinal);
            await phone.Locator(".thumb button").ClickAsync();
        }

        await Assertions.Expect(phone.Locator("h1")).ToHaveTextAsync("In order, best first", PatientText);
        await CheckAsync(phone, "guest-order");
        var codes = await phone.Locator("input[name=order]").EvaluateAllAsync<string[]>("all => all.map(one => one.value)");
        await ButtonOf(phone, $"Move {codes[1]} up").ClickAsync();
        Assert.Equal(codes[1], await phone.Locator("input[name=order]").First.InputValueAsync());

        // And back again, by dragging the first one down.
        var grips = phone.Locator(".rank .grip");
        var (from, to) = ((await grips.Nth(0).BoundingBoxAsync())!, (await grips.Nth(1).BoundingBoxAsync())!);
        await phone.Mouse.MoveAsync(from.X + 20, from.Y + (from.Height / 2));
        await phone.Mouse.DownAsync();
        await phone.Mouse.MoveAsync(to.X + 20, to.Y + (to.Height / 2), new() { Steps = 8 });
        await phone.Mouse.UpAsync();
        Assert.Equal(codes, await phone.Locator("input[name=order]").EvaluateAllAsync<string[]>("all => all.map(one => one.value)"));
        await ButtonOf(phone, "That is my order").ClickAsync();
        await Assertions.Expect(phone.Locator("h1")).ToHaveTextAsync("Thank you, Pim", PatientText);
        await CheckAsync(phone, "guest-done");
        await phone.GotoAsync(new Uri(service.Page, "trials").ToString());
        await Assertions.Expect(phone.Locator("h1")).ToHaveTextAsync("Sign in", PatientText);
        Assert.Empty(errors);
    }

    private static async Task PaperAsync(IPage page, RunningService service, long id, string taster, string[] likes)
    {
        var trial = service.Store.ReadTrial(id)!.Trial;
        await page.GotoAsync(new Uri(service.Page, $"trials/{id}/sheet?taster={taster}").ToString());
        if (taster == "Wren")
        {
            await CheckAsync(page, "trial-sheet");
        }

        for (var place = 0; place < trial.Current.Glasses.Length; place++)
        {
            var glass = trial.Current.Glasses[place];
            await page.Locator($"[name=sweet-{glass.Code}]").FillAsync(glass.DosesGramsPerLiter[0] < 10 ? "1" : glass.DosesGramsPerLiter[0] > 10 ? "3" : "2");
            await page.Locator($"[name=liking-{glass.Code}]").FillAsync(likes[place]);
            await page.Locator($"[name=rank-{glass.Code}]").FillAsync(Places[place]);
        }

        await ButtonOf(page, "Keep").ClickAsync();
        await Assertions.Expect(page.Locator("table tbody tr").Filter(new() { HasText = taster })).ToContainTextAsync("5 of 5, and an order", new() { Timeout = 60000 });
    }

    private async Task<(IPage Page, List<string> Errors)> OpenAsync(ColorScheme scheme = ColorScheme.Light)
    {
        var (page, errors) = await browser.OpenAsync(390, 844, scheme);
        page.SetDefaultTimeout(120000);
        return (page, errors);
    }

    private static async Task CheckAsync(IPage page, string name)
    {
        await JournalPage.CheckAsync(page);
        await JournalPage.PictureAsync(page, name + "-390");
        if (Environment.GetEnvironmentVariable("FERMENTWATCH_PICTURES") is { Length: > 0 })
        {
            await page.SetViewportSizeAsync(1280, 900);
            await JournalPage.PictureAsync(page, name + "-1280");
            await page.SetViewportSizeAsync(390, 844);
        }
    }

    private static async Task SetPasswordAsync(IPage page, RunningService service)
    {
        await page.GotoAsync(new Uri(service.Page, "setup").ToString());
        await page.GetByLabel("Set-up code").FillAsync(service.Services.GetRequiredService<SetUpCode>().Text);
        await page.GetByLabel("Name").FillAsync("Ada");
        await page.GetByLabel("Password").FillAsync(Visitor.Password);
        await ButtonOf(page, "Set the password").ClickAsync();
        await Assertions.Expect(page).ToHaveURLAsync(service.Page.ToString(), new() { Timeout = 60000 });
    }

    private static ILocator ButtonOf(IPage page, string name) => page.GetByRole(AriaRole.Button, new() { Name = name, Exact = true });

    private static async Task<RunningService> StartAsync()
    {
        var service = await RunningService.StartAsync(file =>
        {
            var batch = CellarWithBatch.Batch("elder", "Elderberry", "2026-03-01T08:00:00Z");
            batch["VolumeLiters"] = 18.6;
            file["Batches"] = new JsonArray(batch);
        });
        await Eventually.TrueAsync(() => service.Services.GetRequiredService<FermentWatch.Service.Dashboard.Board>().State.Snapshot.Find("elder") is not null, "the batch is not on the board");
        return service;
    }
}
