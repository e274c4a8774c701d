using System.Net;
using System.Text.Json.Nodes;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Service.Dashboard;
using FermentWatch.Service.Dashboard.Trials;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.InOut;
using FermentWatch.System.Tests.Mqtt;
using FermentWatch.System.Tests.Preferences;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace FermentWatch.System.Tests.Trials;

/// <summary>The pages of a trial in a language whose every text stands in brackets: notices, faults and steps of the library too.</summary>
public sealed class TrialBracketTests(ITestOutputHelper output)
{
    // The batch, its tasters, the scale, and codes of glasses.
    private static readonly string[] Names = ["Sloe wine", "sloe", "Wren", "Otis", "Pim", "pocket scale", "fermentwatch", "FermentWatch"];

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task PagesOfATrial_HaveNoWordOfTheirOwn()
    {
        await using var service = await RunningService.StartAsync(file => file["Batches"] = new JsonArray(CellarWithBatch.Batch("sloe", "Sloe wine", "2026-03-01T08:00:00Z")));
        await new BenchInstruments([new WeighingScale("pocket scale", 200, 0.01, 0.005)], new DosingSyringe(10, 0.2), 1).WriteAsync(service.Store, Stop);
        await Eventually.TrueAsync(() => service.Services.GetRequiredService<Board>().State.Snapshot.Find("sloe") is not null, "the batch is not on the board");
        using var maker = new Visitor(service.Page);
        await LanguageTests.ChooseAsync(maker.Client, "qps-ploc");
        using var refused = await PlanAsync(maker, "ladder", "tannin", ("pour", "100"), ("glass-volume", "10"));
        var found = Outside("the refused plan", await refused.Content.ReadAsStringAsync(Stop));
        Assert.NotEqual(HttpStatusCode.Redirect, refused.StatusCode);
        using var planned = await PlanAsync(maker, "ladder", "tartaric-acid");
        Assert.True(planned.StatusCode == HttpStatusCode.Redirect, await planned.Content.ReadAsStringAsync(Stop));
        var trial = Assert.Single(service.Store.ReadTrials());
        using var chosen = await maker.SendAsync("trials/instruments", $"trials/{trial.Id}/choose", ("code", trial.Trial.Current.Glasses.First(glass => glass.Role is GlassRole.Dose).Code));
        foreach (var path in (string[])["trials", "trials/new?batch=sloe", $"trials/{trial.Id}", $"trials/{trial.Id}/tasting", $"trials/{trial.Id}/paper", $"trials/{trial.Id}/result", $"trials/{trial.Id}/scale"])
        {
            found.AddRange(Outside(path, await maker.Client.GetStringAsync(path, Stop)));
        }

        output.WriteLine(string.Join('\n', found.Distinct()));
        Assert.Empty(found);
    }

    private static List<string> Outside(string page, string html) => [.. BracketTests.Outside(Names.Aggregate(html, (text, name) => text.Replace(name, " ", StringComparison.Ordinal))).Select(words => $"{page}: {words}")];

    private static Task<HttpResponseMessage> PlanAsync(Visitor maker, string kind, string what, params (string, string)[] others) => maker.SendAsync(
        "trials/new?batch=sloe", "trials/new", [.. others, ("batch", "sloe"), ("kind", kind), ("what", what), ("second", "tartaric-acid"), ("glasses", "5"), ("who", "Wren, Otis, Pim"), ("volume", "18.6"), ("gravity", "0.996"), ("alcohol", "12.5"), ("ph", "3.45"), ("titratable-acidity", "5.5")]);
}
