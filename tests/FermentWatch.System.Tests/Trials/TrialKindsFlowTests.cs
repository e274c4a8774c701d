using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Tasting;
using FermentWatch.Service.Dashboard;
using FermentWatch.Service.Dashboard.Trials;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.InOut;
using FermentWatch.System.Tests.Journal;
using FermentWatch.System.Tests.Mqtt;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Trials;

/// <summary>The growing glass, the jars and the palate quiz by hand on a phone.</summary>
public sealed class TrialKindsFlowTests(Browser browser) : IClassFixture<Browser>
{
    private static readonly BatchId Elder = new("elder");

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task GlassThatGrows_IsLedByItsButtonsUpToTheBatch()
    {
        await using var service = await StartAsync();
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        var id = await PlanAsync(page, service, "free", "sucrose");
        await page.GotoAsync(new Uri(service.Page, $"trials/{id}/tasting").ToString());
        await JournalPage.CheckAsync(page);
        await TapAsync(page, "^\\+5 g.L sugar: weigh in", lines: 2);
        await page.GetByLabel("Words for it").FillAsync("still short");
        await TapAsync(page, "^I took a sip", lines: 3);
        await TapAsync(page, "^Too much", lines: 4);
        await Assertions.Expect(page.Locator("main table")).ToContainTextAsync("still short");
        await TapAsync(page, "^Take back the last line", lines: 3);
        await JournalPage.CheckAsync(page);

        // 5 g/L were asked for in 120 mL; stock brings its own volume and the scale its step.
        var free = service.Store.ReadTrial(id)!.Trial;
        Assert.Equal([FreeGlassAct.Addition, FreeGlassAct.Sip], free.Free!.Entries.Select(entry => entry.Act));
        Assert.Equal(5, free.Free.States(free.Stocks)[^1].GramsPerLiter[0], 0.1);
        await page.GetByRole(AriaRole.Button, new() { Name = "This is it" }).ClickAsync();
        await Assertions.Expect(page).ToHaveURLAsync(new Regex($"trials/{id}/scale$"), new() { Timeout = 60000 });
        await page.Locator("#volume").FillAsync("18.1");
        await page.GetByRole(AriaRole.Button, new() { Name = "Show the amounts" }).ClickAsync();
        await Assertions.Expect(page.Locator(".weigh.big .amt")).ToBeVisibleAsync(JournalPage.Patient);

        // What the steps say is what stands large: three quarters as the scale shows them.
        var amount = await page.Locator(".weigh.big .amt").InnerTextAsync();
        await Assertions.Expect(page.Locator("ol.check")).ToContainTextAsync("Three quarters now: " + amount);
        Assert.Empty(errors);
    }

    [Fact]
    public async Task Jars_AreFilledByOneTapAndTastedWhenTheyHaveStood()
    {
        await using var service = await StartAsync();
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Dark);
        var id = await PlanAsync(page, service, "held", "tannin");
        await JournalPage.CheckAsync(page);
        await page.GetByRole(AriaRole.Button, new() { Name = "The jars are filled" }).ClickAsync();
        await Assertions.Expect(page.GetByText("The jars stand. Taste them from")).ToBeVisibleAsync(JournalPage.Patient);
        Assert.Equal(JournalKind.JarsFilled, Assert.Single(service.Store.ReadJournal(Elder)).Kind);

        // The book says when, with a box that leads to the tasting note.
        await Eventually.TrueAsync(
            () => service.Services.GetRequiredService<Board>().State.Snapshot.Find("elder")!.View.Journal.Any(entry => entry.Kind == JournalKind.JarsFilled), "the board does not know of the jars");
        await page.GotoAsync(new Uri(service.Page, "batch/elder").ToString());
        await Assertions.Expect(page.Locator(".due")).ToContainTextAsync("taste the jars of the trial");
        await JournalPage.CheckAsync(page);
        await page.GetByRole(AriaRole.Link, new() { NameRegex = new Regex("^Done: taste the jars") }).ClickAsync();
        await Assertions.Expect(page.Locator("h1")).ToHaveTextAsync("Tasted", new() { Timeout = 60000 });
        Assert.Equal(id, service.Store.ReadTrials(Elder).Single().Id);
        Assert.Empty(errors);
    }

    [Fact]
    public async Task Quiz_IsAnsweredGlassByGlassAndMarked()
    {
        await using var service = await StartAsync();
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        var quiz = PalateStory.Quiz(417);
        await page.GotoAsync(new Uri(service.Page, "trials/palate/417").ToString());
        await JournalPage.CheckAsync(page);
        foreach (var glass in quiz.Glasses)
        {
            await page.GetByLabel("Glass " + glass.Code).SelectOptionAsync(glass.Code == quiz.Glasses[0].Code && glass.Content != PalateQuiz.Nothing ? PalateQuiz.Nothing : glass.Content);
        }

        var right = quiz.Glasses[0].Content == PalateQuiz.Nothing ? 5 : 4;
        await page.GetByRole(AriaRole.Button, new() { Name = "Mark them" }).ClickAsync();
        await Assertions.Expect(page.Locator(".result")).ToContainTextAsync($"{right} of 5 right.", new() { Timeout = 60000 });
        await JournalPage.CheckAsync(page);
        Assert.Empty(errors);
    }

    private static async Task TapAsync(IPage page, string name, int lines)
    {
        await page.GetByRole(AriaRole.Button, new() { NameRegex = new Regex(name) }).First.ClickAsync();
        await Assertions.Expect(page.Locator("main table tbody tr")).ToHaveCountAsync(lines, new() { Timeout = 60000 });
    }

    private static async Task<long> PlanAsync(IPage page, RunningService service, string kind, string what)
    {
        await page.GotoAsync(new Uri(service.Page, "trials/new?batch=elder").ToString());
        await page.Locator($"input[name=what][value='{what}']").CheckAsync();
        await page.Locator("#kind").SelectOptionAsync(kind);
        await page.Locator("#who").FillAsync("Wren, Otis");
        await page.GetByRole(AriaRole.Button, new() { Name = "Plan it" }).ClickAsync();
        await Assertions.Expect(page).ToHaveURLAsync(new Regex("trials/[0-9]+$"), new() { Timeout = 60000 });
        return Assert.Single(service.Store.ReadTrials(Elder)).Id;
    }

    private static async Task<RunningService> StartAsync()
    {
        var service = await RunningService.StartAsync(file =>
        {
            var batch = CellarWithBatch.Batch("elder", "Elderberry", "2026-03-01T08:00:00Z");
            batch["VolumeLiters"] = 18.6;
            file["Batches"] = new JsonArray(batch);
        });
        await new BenchInstruments([new WeighingScale("pocket scale", 200, 0.01, 0.005)], new DosingSyringe(10, 0.2), 1).WriteAsync(service.Store, Stop);
        await Eventually.TrueAsync(() => service.Services.GetRequiredService<Board>().State.Snapshot.Find("elder") is not null, "the batch is not on the board");
        return service;
    }
}
