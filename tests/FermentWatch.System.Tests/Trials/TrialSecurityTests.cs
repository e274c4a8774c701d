using System.Net;
using System.Text.Json.Nodes;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Tasting;
using FermentWatch.Service.Access;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.InOut;
using FermentWatch.System.Tests.Mqtt;
using FermentWatch.System.Tests.Storage;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace FermentWatch.System.Tests.Trials;

/// <summary>What a guest code opens, and everything that it does not.</summary>
public sealed class TrialSecurityTests
{
    private const string Code = "ABCDE-FGHJK";

    private const string OtherCode = "ABCDE-FGHJL";

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task GuestCode_OpensTheTastingAndNothingElse()
    {
        await using var service = await StartAsync();
        using var maker = await Visitor.FirstMakerAsync(service);
        var (trial, _) = await TwoTrialsAsync(service);
        using var guest = new Visitor(service.Page);
        Assert.Equal(HttpStatusCode.OK, (await guest.GetAsync("tasting/" + Code)).StatusCode);
        using var seated = await guest.SendAsync("tasting/" + Code, "tasting/" + Code, ("taster", "Pim"));
        Assert.Equal(HttpStatusCode.Redirect, seated.StatusCode);

        foreach (var path in (string[])["", "bench", "trials", $"trials/{trial}", $"trials/{trial}/tasting", $"trials/{trial}/result", $"trials/{trial}/scale", $"trials/{trial}/paper", $"trials/{trial}/sheet?taster=Pim", "trials/new?batch=sloe", "trials/instruments", "batch/sloe", "settings", "export.zip", "live"])
        {
            using var answer = await guest.GetAsync(path);
            Assert.True(
                answer.StatusCode == HttpStatusCode.Unauthorized || (answer.StatusCode == HttpStatusCode.Redirect && answer.Headers.Location!.ToString().StartsWith("/sign-in", StringComparison.Ordinal)),
                $"{path}: {answer.StatusCode}");
        }
    }

    [Fact]
    public async Task TasterAndViewerWhoSignedIn_CannotLookIntoTheGlasses()
    {
        await using var service = await StartAsync();
        using var maker = await Visitor.FirstMakerAsync(service);
        var (trial, _) = await TwoTrialsAsync(service);
        using var taster = await maker.InviteAsync(service, "Tess", "taster");
        using var viewer = await maker.InviteAsync(service, "Vic", "viewer");
        foreach (var path in (string[])["trials", $"trials/{trial}", $"trials/{trial}/result", $"trials/{trial}/paper"])
        {
            Assert.Equal(HttpStatusCode.Forbidden, (await taster.GetAsync(path)).StatusCode);
            Assert.Equal(HttpStatusCode.Forbidden, (await viewer.GetAsync(path)).StatusCode);
            Assert.Equal(HttpStatusCode.OK, (await maker.GetAsync(path)).StatusCode);
        }
    }

    [Fact]
    public async Task PagesOfAGuest_HoldCodesAndTheirOwnAnswersOnly()
    {
        await using var service = await StartAsync();
        using var maker = await Visitor.FirstMakerAsync(service);
        var (trial, _) = await TwoTrialsAsync(service);
        var planned = service.Store.ReadTrial(trial)!.Trial;
        await service.Store.ChangeTrialAsync(trial, was => was with { Trial = was.Trial.WithScore(new GlassScore("Wren", planned.Current.Glasses[0].Code, Liking: 9, Note: "WRENSECRET")) }, Stop);
        using var guest = new Visitor(service.Page);
        using var seated = await guest.SendAsync("tasting/" + Code, "tasting/" + Code, ("taster", "Pim"));
        var pages = new List<string>();
        foreach (var glass in planned.Current.CodesFor(2))
        {
            pages.Add(await guest.Client.GetStringAsync($"tasting/{Code}/glass/{glass}", Stop));
            using var sent = await guest.SendAsync($"tasting/{Code}/glass/{glass}", $"tasting/{Code}/glass/{glass}", ("sweet", "right"), ("liking", "6"), ("note", "mine"));
            Assert.Equal(HttpStatusCode.Redirect, sent.StatusCode);
        }

        pages.Add(await guest.Client.GetStringAsync($"tasting/{Code}/order", Stop));
        pages.Add(await guest.Client.GetStringAsync($"tasting/{Code}/done", Stop));
        Assert.Equal(7, pages.Count);
        Assert.All(pages, page =>
        {
            foreach (var secret in (string[])["g/L", "sugar", "control", "twin", "WRENSECRET", "\u00a0mL", "18.6"])
            {
                Assert.DoesNotContain(secret, page, StringComparison.OrdinalIgnoreCase);
            }
        });
        Assert.Equal(5, service.Store.ReadTrial(trial)!.Trial.Current.Scores.Count(score => score.Taster == "Pim"));
    }

    [Fact]
    public async Task CodeThatIsOldEndedOrOfAnotherTrial_IsRefused()
    {
        await using var service = await StartAsync();
        using var maker = await Visitor.FirstMakerAsync(service);
        var (first, second) = await TwoTrialsAsync(service);
        using var guest = new Visitor(service.Page);
        using var seated = await guest.SendAsync("tasting/" + Code, "tasting/" + Code, ("taster", "Pim"));
        var glass = service.Store.ReadTrial(first)!.Trial.Current.CodesFor(2)[0];

        // The place of the first trial is none at the second.
        using var crossed = await guest.SendAsync($"tasting/{OtherCode}", $"tasting/{OtherCode}/glass/{service.Store.ReadTrial(second)!.Trial.Current.Glasses[0].Code}", ("sweet", "right"));
        Assert.Empty(service.Store.ReadTrial(second)!.Trial.Current.Scores);

        await service.Store.OpenTastingAsync(first, Secrets.Hash(Code), "sealed", ReceivedAt.From(DateTimeOffset.UtcNow.AddSeconds(-1)), Stop);
        Assert.Equal(HttpStatusCode.NotFound, (await guest.GetAsync("tasting/" + Code)).StatusCode);
        using var late = await guest.SendAsync("tasting", $"tasting/{Code}/glass/{glass}", ("sweet", "right"));
        Assert.Equal(HttpStatusCode.NotFound, late.StatusCode);
        Assert.Empty(service.Store.ReadTrial(first)!.Trial.Current.Scores);

        using var ended = await maker.SendAsync($"trials/{second}/tasting", $"trials/{second}/tasting", ("do", "end"));
        Assert.Equal(HttpStatusCode.NotFound, (await guest.GetAsync("tasting/" + OtherCode)).StatusCode);
    }

    [Fact]
    public async Task ClosedTasting_TakesNoAnswerThoughTheCodeStillCounts()
    {
        await using var service = await StartAsync();
        using var maker = await Visitor.FirstMakerAsync(service);
        var (trial, _) = await TwoTrialsAsync(service);
        using var guest = new Visitor(service.Page);
        using var seated = await guest.SendAsync("tasting/" + Code, "tasting/" + Code, ("taster", "Pim"));
        var glass = service.Store.ReadTrial(trial)!.Trial.Current.CodesFor(2)[0];
        await service.Store.ChangeTrialAsync(trial, was => was with { State = TrialState.Told }, Stop);
        using var late = await guest.SendAsync("tasting", $"tasting/{Code}/glass/{glass}", ("sweet", "right"));
        Assert.Equal(HttpStatusCode.NotFound, late.StatusCode);
        Assert.Empty(service.Store.ReadTrial(trial)!.Trial.Current.Scores);
    }

    [Fact]
    public async Task GuessingCodes_IsSlowedDownAndARightOneDoesNotHelpThen()
    {
        await using var service = await StartAsync();
        using var maker = await Visitor.FirstMakerAsync(service);
        await TwoTrialsAsync(service);
        using var guesser = new Visitor(service.Page, "127.0.0.9");
        for (var tries = 0; tries < GuessLimit.TriesOfAnAddress; tries++)
        {
            Assert.Equal(HttpStatusCode.NotFound, (await guesser.GetAsync($"tasting/AAAAA-AAAA{(char)('A' + tries)}")).StatusCode);
        }

        Assert.Equal(HttpStatusCode.NotFound, (await guesser.GetAsync("tasting/" + Code)).StatusCode);
        using var other = new Visitor(service.Page, "127.0.0.10");
        for (var visits = 0; visits < 3 * GuessLimit.TriesOfAnAddress; visits++)
        {
            Assert.Equal(HttpStatusCode.OK, (await other.GetAsync("tasting/" + Code)).StatusCode);
        }
    }

    [Fact]
    public async Task OpeningPages_ChangesNothing()
    {
        await using var service = await StartAsync();
        using var maker = await Visitor.FirstMakerAsync(service);
        var (trial, _) = await TwoTrialsAsync(service);
        using var guest = new Visitor(service.Page);
        using var seated = await guest.SendAsync("tasting/" + Code, "tasting/" + Code, ("taster", "Pim"));
        var stored = service.Store.ReadTrial(trial)!;
        var journal = service.Store.ReadJournal(new BatchId("sloe")).Count;
        foreach (var path in (string[])["", "/tasting", "/tasting?do=open", "/result", "/scale?do=done", "/paper", "/sheet?taster=Pim", "/mixed", "/give-up", "/free"])
        {
            using var _ = await maker.GetAsync($"trials/{trial}{path}");
        }

        foreach (var path in (string[])["", "/order?move=up-" + stored.Trial.Current.Glasses[0].Code, "/done", "/glass/" + stored.Trial.Current.Glasses[0].Code + "?sweet=right"])
        {
            using var _ = await guest.GetAsync($"tasting/{Code}{path}");
        }

        Assert.Equal((stored.Revision, stored.State, journal), (service.Store.ReadTrial(trial)!.Revision, service.Store.ReadTrial(trial)!.State, service.Store.ReadJournal(new BatchId("sloe")).Count));
    }

    [Fact]
    public async Task PlaceThatIsTaken_StaysWithItsPhoneUntilItIsFreed()
    {
        await using var service = await StartAsync();
        using var maker = await Visitor.FirstMakerAsync(service);
        var (trial, _) = await TwoTrialsAsync(service);
        using var pim = new Visitor(service.Page);
        using var other = new Visitor(service.Page);
        using var seated = await pim.SendAsync("tasting/" + Code, "tasting/" + Code, ("taster", "Pim"));
        using var refused = await other.SendAsync("tasting/" + Code, "tasting/" + Code, ("taster", "Pim"));
        using var unknown = await other.SendAsync("tasting/" + Code, "tasting/" + Code, ("taster", "Nobody"));
        Assert.Equal((HttpStatusCode.Redirect, HttpStatusCode.UnprocessableEntity, HttpStatusCode.UnprocessableEntity), (seated.StatusCode, refused.StatusCode, unknown.StatusCode));
        using var freed = await maker.SendAsync($"trials/{trial}/tasting", $"trials/{trial}/tasting", ("do", "free"), ("taster", "Pim"));
        using var taken = await other.SendAsync("tasting/" + Code, "tasting/" + Code, ("taster", "Pim"));
        Assert.Equal(HttpStatusCode.Redirect, taken.StatusCode);
    }

    private static async Task<RunningService> StartAsync()
    {
        var service = await RunningService.StartAsync(file => file["Batches"] = new JsonArray(CellarWithBatch.Batch("sloe", "Sloe wine", "2026-03-01T08:00:00Z")));
        await Eventually.TrueAsync(() => service.Services.GetRequiredService<FermentWatch.Service.Dashboard.Board>().State.Snapshot.Find("sloe") is not null, "the batch is not on the board");
        return service;
    }

    private static async Task<(long First, long Second)> TwoTrialsAsync(RunningService service)
    {
        var first = await service.Store.AddTrialAsync(new BatchId("sloe"), TrialSamples.Sugar(), Stop);
        var second = await service.Store.AddTrialAsync(new BatchId("sloe"), TrialSamples.Sugar(), Stop);
        var until = ReceivedAt.From(DateTimeOffset.UtcNow.AddHours(1));
        foreach (var (trial, code) in ((long, string)[])[(first, Code), (second, OtherCode)])
        {
            await service.Store.ChangeTrialAsync(trial, was => was with { State = TrialState.Tasting }, Stop);
            await service.Store.OpenTastingAsync(trial, Secrets.Hash(code), "sealed", until, Stop);
        }

        return (first, second);
    }
}
