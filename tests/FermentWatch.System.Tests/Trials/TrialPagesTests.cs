using System.Net;
using System.Text.Json.Nodes;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Service.Dashboard;
using FermentWatch.Service.Dashboard.Trials;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.InOut;
using FermentWatch.System.Tests.Mqtt;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace FermentWatch.System.Tests.Trials;

/// <summary>The forms of trials without a script: every kind of plan, every refusal, every way to the batch.</summary>
public sealed class TrialPagesTests
{
    private static readonly BatchId Sloe = new("sloe");

    private static readonly BenchInstruments Fine = new([new WeighingScale("pocket scale", 200, 0.01, 0.005)], new DosingSyringe(10, 0.2), 1);

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("ladder", "sucrose", 5)]
    [InlineData("ladder", "tartaric-acid", 5)]
    [InlineData("ladder", "lactic-acid", 5)]
    [InlineData("ladder", "potassium-bicarbonate", 5)]
    [InlineData("bracket", "honey", 4)]
    [InlineData("grid", "sucrose", 6)]
    [InlineData("held", "tannin", 5)]
    [InlineData("free", "sucrose", 1)]
    public async Task EveryKindOfPlan_HasItsPages(string kind, string what, int glasses)
    {
        await using var service = await StartAsync(Fine);
        using var maker = new Visitor(service.Page);
        using var planned = await PlanAsync(maker, ("kind", kind), ("what", what));
        Assert.True(planned.StatusCode == HttpStatusCode.Redirect, await planned.Content.ReadAsStringAsync(Stop));
        var stored = Assert.Single(service.Store.ReadTrials(Sloe));
        Assert.Equal(glasses, stored.Trial.Current.Glasses.Length);
        var page = await maker.Client.GetStringAsync($"trials/{stored.Id}", Stop);
        Assert.Contains("of 18.6", page, StringComparison.Ordinal);
        Assert.Contains("if swallowed", page, StringComparison.Ordinal);
        Assert.All(stored.Trial.Flights.SelectMany(flight => flight.Glasses).Where(glass => glass.Mix is not null && kind != "free"), glass => Assert.Contains(glass.Code, page, StringComparison.Ordinal));
        foreach (var path in (string[])["tasting", "result", "scale"])
        {
            using var answer = await maker.GetAsync($"trials/{stored.Id}/{path}");
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        }

        Assert.Equal(kind == "free" ? HttpStatusCode.NotFound : HttpStatusCode.OK, (await maker.GetAsync($"trials/{stored.Id}/paper")).StatusCode);
        if (kind == "held")
        {
            Assert.Contains("jars", page, StringComparison.Ordinal);
            Assert.Equal(7, stored.Trial.Held!.From.DayNumber - stored.Trial.Request.StartsOn!.Value.DayNumber);
        }
    }

    [Fact]
    public async Task JarsThatAreFilled_AreRemindedOfByTheBook()
    {
        await using var service = await StartAsync(Fine);
        using var maker = new Visitor(service.Page);
        using var planned = await PlanAsync(maker, ("kind", "held"), ("what", "tannin"));
        var id = service.Store.ReadTrials()[0].Id;
        for (var times = 0; times < 2; times++)
        {
            using var filled = await maker.SendAsync("trials/instruments", $"trials/{id}/jars");
            Assert.Equal(HttpStatusCode.Redirect, filled.StatusCode);
        }

        var entry = Assert.Single(service.Store.ReadJournal(Sloe));
        Assert.Equal(JournalKind.JarsFilled, entry.Kind);
        Assert.InRange(entry.Number("sample")!.Value, 200, 1500);
        Assert.Contains("The jars stand. Taste them from", await maker.Client.GetStringAsync($"trials/{id}", Stop), StringComparison.Ordinal);
        var held = service.Store.ReadTrial(id)!.Trial.Held!;
        Assert.Equal((7, 14), (held.From.DayNumber - DateOnly.FromDateTime(DateTime.UtcNow).DayNumber, held.Until.DayNumber - DateOnly.FromDateTime(DateTime.UtcNow).DayNumber));
    }

    [Fact]
    public async Task StepThatTheScaleCannotTell_IsRefusedWithWhatWouldDo()
    {
        await using var service = await StartAsync(new BenchInstruments([new WeighingScale("kitchen scale", 5000, 5)], new DosingSyringe(10, 0.2), 1));
        using var maker = new Visitor(service.Page);
        using var refused = await PlanAsync(maker, ("kind", "ladder"), ("what", "tannin"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.StatusCode);
        var page = WebUtility.HtmlDecode(await refused.Content.ReadAsStringAsync(Stop));
        Assert.Contains("within 5\u00a0%", page, StringComparison.Ordinal);
        Assert.Contains("What would do", page, StringComparison.Ordinal);
        Assert.Contains("Wren, Otis, Pim", page, StringComparison.Ordinal);
        Assert.Empty(service.Store.ReadTrials());
    }

    [Fact]
    public async Task DoseBeyondALimit_IsNotOffered()
    {
        await using var service = await StartAsync(Fine);
        using var maker = new Visitor(service.Page);
        using var refused = await PlanAsync(maker, ("kind", "ladder"), ("what", "citric-acid"), ("step", "5"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.StatusCode);
        Assert.Contains("limit", await refused.Content.ReadAsStringAsync(Stop), StringComparison.OrdinalIgnoreCase);
        Assert.Empty(service.Store.ReadTrials());
    }

    [Theory]
    [InlineData("who", "", "0 names were given")]
    [InlineData("who", "Pim, pim", "different names")]
    [InlineData("volume", "none", "must be a number")]
    [InlineData("alcohol", "90", "90")]
    [InlineData("kind", "other", "Choose what to balance")]
    public async Task FaultyPlan_IsShownAgainWithWhatIsWrong(string field, string typed, string sentence)
    {
        await using var service = await StartAsync(Fine);
        using var maker = new Visitor(service.Page);
        using var again = await PlanAsync(maker, (field, typed));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, again.StatusCode);
        Assert.Contains(sentence, WebUtility.HtmlDecode(await again.Content.ReadAsStringAsync(Stop)), StringComparison.Ordinal);
        Assert.Empty(service.Store.ReadTrials());
    }

    [Fact]
    public async Task Instruments_AreAskedFirstCheckedAndKept()
    {
        await using var service = await StartAsync(null);
        using var maker = new Visitor(service.Page);
        Assert.Contains("What you measure with", await maker.Client.GetStringAsync("trials/new?batch=sloe", Stop), StringComparison.Ordinal);
        using var swapped = await maker.SendAsync("trials/instruments", "trials/instruments", ("scale-capacity-1", "1"), ("scale-division-1", "0.2"), ("syringe-capacity", "1"), ("syringe-division", "5"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, swapped.StatusCode);
        var page = WebUtility.HtmlDecode(await swapped.Content.ReadAsStringAsync(Stop));
        Assert.Contains("at least ten steps", page, StringComparison.Ordinal);
        Assert.Contains("must be finer", page, StringComparison.Ordinal);
        Assert.Null(BenchInstruments.Read(service.Store));

        using var kept = await maker.SendAsync(
            "trials/instruments", "trials/instruments", ("scale-capacity-1", "200"), ("scale-division-1", "0.01"), ("scale-readings-1", "20.01 20.02 20.03"), ("syringe-capacity", "10"), ("syringe-division", "0.2"), ("next", "sloe"));
        Assert.Contains("trials/new?batch=sloe", kept.Headers.Location!.ToString(), StringComparison.Ordinal);
        var scale = Assert.Single(BenchInstruments.Read(service.Store)!.Scales);
        // The standard deviation of 1, 2, 3 is 1 (n - 1).
        Assert.Equal(0.01, scale.RepeatabilityGrams!.Value, 1e-9);
        Assert.Contains("Plan a trial for", await maker.Client.GetStringAsync("trials/new?batch=sloe", Stop), StringComparison.Ordinal);
    }

    [Fact]
    public async Task GlassThatGrows_KeepsItsLedgerAndGoesToTheBatch()
    {
        await using var service = await StartAsync(Fine);
        using var maker = new Visitor(service.Page);
        using var planned = await PlanAsync(maker, ("kind", "free"), ("what", "sucrose"));
        var id = Assert.Single(service.Store.ReadTrials()).Id;
        foreach (var act in (string[])["add-0-0", "sip", "add-0-1", "dilute", "sip", "back"])
        {
            using var sent = await maker.SendAsync($"trials/{id}/tasting", $"trials/{id}/free", ("act", act));
            Assert.Equal(HttpStatusCode.Redirect, sent.StatusCode);
        }

        var trial = service.Store.ReadTrial(id)!.Trial;
        Assert.Equal([FreeGlassAct.Addition, FreeGlassAct.Sip, FreeGlassAct.Addition, FreeGlassAct.Dilution], trial.Free!.Entries.Select(entry => entry.Act));
        // The first button is a step of 5 g/L, the second one of 3: the ledger holds them within a division of the scale.
        Assert.Equal(5, trial.Free.States(trial.Stocks)[1].GramsPerLiter[0], 0.1);
        Assert.Equal(8, trial.Free.States(trial.Stocks)[3].GramsPerLiter[0], 0.1);
        using var emptied = await maker.SendAsync($"trials/{id}/tasting", $"trials/{id}/free", ("act", "sip"), ("amount", "900"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, emptied.StatusCode);
        using var chosen = await maker.SendAsync($"trials/{id}/tasting", $"trials/{id}/free", ("act", "choose"));
        Assert.Contains($"trials/{id}/scale", chosen.Headers.Location!.ToString(), StringComparison.Ordinal);
        using var volume = await maker.SendAsync($"trials/{id}/scale", $"trials/{id}/scale", ("do", "volume"), ("volume", "18.1"), ("stabilized", "no"));
        var page = await maker.Client.GetStringAsync($"trials/{id}/scale", Stop);
        Assert.Contains("Sugar, first", page, StringComparison.Ordinal);
        Assert.Contains("Stabilize, and wait", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task AmountThatWentIn_IsWrittenOnceInTheKindOfItsAdditive()
    {
        await using var service = await StartAsync(Fine);
        using var maker = new Visitor(service.Page);
        foreach (var (what, kind) in ((string, JournalKind)[])[("tartaric-acid", JournalKind.AcidAdded), ("tannin", JournalKind.TanninAdded), ("sucrose", JournalKind.SugarAdded), ("potassium-bicarbonate", JournalKind.Note)])
        {
            using var planned = await PlanAsync(maker, ("what", what), ("kind", "ladder"));
            var id = service.Store.ReadTrials()[0].Id;
            var trial = service.Store.ReadTrial(id)!.Trial;
            await service.Store.ChangeTrialAsync(id, was => was with { State = TrialState.Told }, Stop);
            using var chosen = await maker.SendAsync("trials/instruments", $"trials/{id}/choose", ("code", trial.Current.Glasses[1].Code));
            using var volume = await maker.SendAsync($"trials/{id}/scale", $"trials/{id}/scale", ("do", "volume"), ("volume", "18.1"));
            for (var times = 0; times < 2; times++)
            {
                using var first = await maker.SendAsync($"trials/{id}/scale", $"trials/{id}/scale", ("write", what + "-first"));
            }

            using var rest = await maker.SendAsync($"trials/{id}/scale", $"trials/{id}/scale", ("write", what + "-rest"));
            Assert.Equal([what + "-first", what + "-rest"], service.Store.ReadTrial(id)!.Work.Written);
            Assert.Equal(2, service.Store.ReadJournal(Sloe).Count(entry => entry.Kind == kind));

            // What went in can't be chosen otherwise.
            using var other = await maker.SendAsync("trials/instruments", $"trials/{id}/choose", ("code", trial.Current.Glasses[2].Code));
            Assert.Equal(trial.Current.Glasses[1].Code, service.Store.ReadTrial(id)!.Trial.Chosen!.Code);
        }

        var acid = service.Store.ReadJournal(Sloe).Where(entry => entry.Kind == JournalKind.AcidAdded).ToList();
        Assert.All(acid, entry => Assert.Equal("tartaric", entry.Word("acid")));
        // 1 g/L in 18.1 L with the acid's own 0.55 mL/g: 18.11 g in two parts.
        Assert.Equal(18.11, acid.Sum(entry => entry.Number("grams")!.Value), 0.3);
    }

    [Fact]
    public async Task AnswersThatNameTheNextGlass_LeadToAnotherFlight()
    {
        await using var service = await StartAsync(Fine);
        using var maker = new Visitor(service.Page);
        using var planned = await PlanAsync(maker, ("what", "sucrose"), ("kind", "bracket"));
        var id = service.Store.ReadTrials()[0].Id;
        var trial = service.Store.ReadTrial(id)!.Trial;
        foreach (var taster in trial.Request.Tasters)
        {
            var fields = trial.Current.Glasses.Select(glass => ("sweet-" + glass.Code, glass.DosesGramsPerLiter[0] < 15 ? "1" : "3")).Append(("taster", taster)).ToArray();
            using var typed = await maker.SendAsync($"trials/{id}/sheet?taster={taster}", $"trials/{id}/sheet", fields);
            Assert.Equal(HttpStatusCode.Redirect, typed.StatusCode);
        }

        var page = await maker.Client.GetStringAsync($"trials/{id}/result", Stop);
        Assert.Contains("the best lies between 10", page, StringComparison.Ordinal);
        using var next = await maker.SendAsync($"trials/{id}/result", $"trials/{id}/flight");
        var grown = service.Store.ReadTrial(id)!;
        Assert.Equal((2, TrialState.Mixing), (grown.Trial.Flights.Length, grown.State));
        Assert.Contains(grown.Trial.Current.Glasses, glass => glass.DosesGramsPerLiter[0] is > 10 and < 20);
        Assert.Empty(grown.Trial.Flights[0].Glasses.Select(glass => glass.Code).Intersect(grown.Trial.Current.Glasses.Select(glass => glass.Code)));
    }

    [Fact]
    public async Task SheetWithSlipsOfThePen_IsShownAgain()
    {
        await using var service = await StartAsync(Fine);
        using var maker = new Visitor(service.Page);
        using var planned = await PlanAsync(maker, ("what", "sucrose"));
        var id = service.Store.ReadTrials()[0].Id;
        var codes = service.Store.ReadTrial(id)!.Trial.Current.Glasses.Select(glass => glass.Code).ToList();
        using var again = await maker.SendAsync($"trials/{id}/sheet?taster=Pim", $"trials/{id}/sheet", ("taster", "Pim"), ("sweet-" + codes[0], "4"), ("rank-" + codes[0], "1"), ("rank-" + codes[1], "1"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, again.StatusCode);
        var page = WebUtility.HtmlDecode(await again.Content.ReadAsStringAsync(Stop));
        Assert.Contains($"Glass {codes[0]}, Sweet: 4 was typed; it must be a number from 1 to 3.", page, StringComparison.Ordinal);
        Assert.Contains("every place from 1 to 5 once", page, StringComparison.Ordinal);
        Assert.Empty(service.Store.ReadTrial(id)!.Trial.Current.Scores);
        Assert.Equal(HttpStatusCode.NotFound, (await maker.GetAsync($"trials/{id}/sheet?taster=Nobody")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await maker.GetAsync("trials/999")).StatusCode);
    }

    [Fact]
    public async Task ControlThatWins_AddsNothing()
    {
        await using var service = await StartAsync(Fine);
        using var maker = new Visitor(service.Page);
        using var planned = await PlanAsync(maker, ("what", "sucrose"));
        var id = service.Store.ReadTrials()[0].Id;
        var control = service.Store.ReadTrial(id)!.Trial.Current.Glasses[0];
        Assert.Equal(GlassRole.Control, control.Role);
        using var chosen = await maker.SendAsync("trials/instruments", $"trials/{id}/choose", ("code", control.Code));
        Assert.Equal(TrialState.Done, service.Store.ReadTrial(id)!.State);
        Assert.Contains("nothing is added", await maker.Client.GetStringAsync($"trials/{id}/scale", Stop), StringComparison.Ordinal);
    }

    private static Task<HttpResponseMessage> PlanAsync(Visitor maker, params (string Name, string Value)[] fields)
    {
        var usual = new Dictionary<string, string>
        {
            ["batch"] = "sloe",
            ["kind"] = "ladder",
            ["what"] = "sucrose",
            ["second"] = "tartaric-acid",
            ["glasses"] = "5",
            ["who"] = "Wren, Otis, Pim",
            ["volume"] = "18.6",
            ["gravity"] = "0.996",
            ["alcohol"] = "12.5",
            ["ph"] = "3.45",
            ["titratable-acidity"] = "5.5",
        };
        foreach (var (name, value) in fields)
        {
            usual[name] = value;
        }

        return maker.SendAsync("trials/new?batch=sloe", "trials/new", [.. usual.Select(field => (field.Key, field.Value))]);
    }

    private static async Task<RunningService> StartAsync(BenchInstruments? instruments)
    {
        var service = await RunningService.StartAsync(file => file["Batches"] = new JsonArray(CellarWithBatch.Batch("sloe", "Sloe wine", "2026-03-01T08:00:00Z")));
        if (instruments is not null)
        {
            await instruments.WriteAsync(service.Store, Stop);
        }

        await Eventually.TrueAsync(() => service.Services.GetRequiredService<Board>().State.Snapshot.Find("sloe") is not null, "the batch is not on the board");
        return service;
    }
}
