using System.Text.Json.Nodes;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Access;
using FermentWatch.Service.Dashboard;
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

/// <summary>The maker's page of a tasting follows what guests answer, and stands where there is no script.</summary>
public sealed class TastingFollowsTests(Browser browser) : IClassFixture<Browser>
{
    private const string Code = "ABCDE-FGHJK";

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task OpenPage_ShowsAnAnswerWithoutATap_AndWithoutScriptAfterOne(bool hasScript)
    {
        await using var service = await StartAsync();
        using var maker = await Visitor.FirstMakerAsync(service);
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Light, hasScript);
        await page.Context.AddCookiesAsync(maker.Cookies.GetAllCookies().Select(cookie => new Cookie { Name = cookie.Name, Value = cookie.Value, Domain = cookie.Domain, Path = cookie.Path }));
        await page.GotoAsync(new Uri(service.Page, "trials/1/tasting").ToString());
        var row = page.Locator("table tbody tr").Filter(new() { HasText = "Pim" });
        await Assertions.Expect(row).ToContainTextAsync("0 of 5", new() { Timeout = 60000 });
        if (hasScript)
        {
            // The stream of news stands before somebody answers.
            await page.EvaluateAsync("""
                () => new Promise(done => { const feed = new EventSource(document.getElementById('main').dataset.feed); feed.onmessage = () => { feed.close(); done(); }; })
                """);
        }

        using var guest = new Visitor(service.Page);
        using var seated = await guest.SendAsync("tasting/" + Code, "tasting/" + Code, ("taster", "Pim"));
        var glass = service.Store.ReadTrial(1)!.Trial.Current.Glasses[0].Code;
        using var answered = await guest.SendAsync($"tasting/{Code}/glass/{glass}", $"tasting/{Code}/glass/{glass}", ("sweet", "right"), ("liking", "6"));
        if (!hasScript)
        {
            await Assertions.Expect(row).ToContainTextAsync("0 of 5");
            await page.GetByRole(AriaRole.Link, new() { Name = "Look again" }).ClickAsync();
        }

        await Assertions.Expect(row).ToContainTextAsync("1 of 5", new() { Timeout = 60000 });
        await Assertions.Expect(row.GetByRole(AriaRole.Button)).ToBeVisibleAsync(JournalPage.Patient);
        Assert.Empty(errors);
    }

    private static async Task<RunningService> StartAsync()
    {
        var service = await RunningService.StartAsync(file => file["Batches"] = new JsonArray(CellarWithBatch.Batch("elder", "Elderberry", "2026-03-01T08:00:00Z")));
        await Eventually.TrueAsync(() => service.Services.GetRequiredService<Board>().State.Snapshot.Find("elder") is not null, "the batch is not on the board");
        var trial = await service.Store.AddTrialAsync(new BatchId("elder"), Storage.TrialSamples.Sugar(), Stop);
        await service.Store.ChangeTrialAsync(trial, was => was with { State = TrialState.Tasting }, Stop);
        await service.Store.OpenTastingAsync(trial, Secrets.Hash(Code), "sealed", ReceivedAt.From(TimeProvider.System.GetUtcNow().AddHours(6)), Stop);
        return service;
    }
}
