using System.Globalization;
using System.Text;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Service.Dashboard;
using FermentWatch.Service.Dashboard.Acts;
using FermentWatch.Service.Dashboard.Trials;
using FermentWatch.Service.InOut;
using FermentWatch.Service.Pipeline;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Mqtt;
using FermentWatch.System.Tests.Preferences;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace FermentWatch.System.Tests.Pages;

/// <summary>A full cellar in which somebody has done what pages with a story need: trials in every state, guests at a tasting, a file on its way in, an invitation, a link of a notice, a batch begun on the page.</summary>
internal sealed class CellarStage : IAsyncDisposable
{
    private readonly Dictionary<Seer, Visitor> _visitors = [];
    private readonly List<PageVisit> _visits = [];

    private CellarStage(FullCellar cellar, RunningService empty) => (Cellar, Empty) = (cellar, empty);

    public FullCellar Cellar { get; }

    /// <summary>A service in which nobody has a password and nothing was ever heard.</summary>
    public RunningService Empty { get; }

    /// <summary>Every look at every page.</summary>
    public IReadOnlyList<PageVisit> Visits => PageList.Of(PageList.Routes(Cellar.Service), _visits);

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    private Store Store => Cellar.Service.Store;

    private Visitor Maker => _visitors[Seer.Maker];

    public static async Task<CellarStage> StartAsync()
    {
        var stage = new CellarStage(await FullCellar.StartAsync(), await RunningService.StartAsync(_ => { }));
        stage._visitors[Seer.Maker] = await Visitor.FirstMakerAsync(stage.Cellar.Service);
        foreach (var seer in (Seer[])[Seer.Stranger, Seer.Guest, Seer.GuestWhoIsDone])
        {
            stage._visitors[seer] = new Visitor(stage.Cellar.Service.Page);
        }

        stage._visitors[Seer.First] = new Visitor(stage.Empty.Page);
        await stage.TrialsAsync();
        await stage.GuestsAsync();
        await stage.FilesAsync();
        await stage.DoorsAsync();
        await stage.BookAsync();
        foreach (var path in (string[])["setup", "", "alerts", "messages", "listening", "archive", "sensors", "trials", "trials/new", "trials/palate", "devices", "channels", "care"])
        {
            stage.Add("/" + path, path, Seer.First);
        }

        return stage;
    }

    /// <summary>Root of the pages that somebody looks at.</summary>
    public Uri RootFor(Seer seer) => (seer is Seer.First ? Empty : Cellar.Service).Page;

    /// <summary>From here on both services speak a language.</summary>
    public async Task SpeakAsync(string language)
    {
        await LanguageTests.ChooseAsync(Maker.Client, language);
        await LanguageTests.ChooseAsync(_visitors[Seer.First].Client, language);
    }

    /// <summary>A page as whoever looks at it gets it.</summary>
    public Task<HttpResponseMessage> GetAsync(PageVisit visit) => _visitors[visit.By].GetAsync(visit.Address);

    /// <summary>What somebody's browser keeps.</summary>
    public IEnumerable<Microsoft.Playwright.Cookie> CookiesOf(Seer seer) => _visitors[seer].Cookies.GetAllCookies()
        .Select(cookie => new Microsoft.Playwright.Cookie { Name = cookie.Name, Value = cookie.Value, Domain = cookie.Domain, Path = cookie.Path });

    public async ValueTask DisposeAsync()
    {
        foreach (var visitor in _visitors.Values)
        {
            visitor.Dispose();
        }

        await Cellar.DisposeAsync();
        await Empty.DisposeAsync();
    }

    private void Add(string route, string address, Seer by = Seer.Maker) => _visits.Add(new PageVisit(route, address, by));

    private void Trial(long id, params string[] pages)
    {
        foreach (var page in pages)
        {
            var path = page.Length == 0 ? "" : "/" + page;
            Add("/trials/{trial:long}" + path.Split('?')[0], string.Create(CultureInfo.InvariantCulture, $"trials/{id}{path}"));
        }
    }

    private async Task TrialsAsync()
    {
        Trial(1, "", "tasting", "paper", "sheet?taster=Wren", "result", "scale");
        await new BenchInstruments([new WeighingScale("pocket scale", 200, 0.01, 0.005), new WeighingScale("kitchen scale", 5000, 1)], new DosingSyringe(10, 0.2), 1).WriteAsync(Store, Cancellation);
        var told = await PlannedAsync("ladder", "sucrose");
        await ScoredAsync(told);
        await Store.ChangeTrialAsync(told, was => was with { State = TrialState.Told }, Cancellation);
        Trial(told, "", "tasting", "result", "scale");
        var scaled = await PlannedAsync("grid", "sucrose");
        await Store.ChangeTrialAsync(scaled, was => was with { State = TrialState.ScalingUp, Trial = was.Trial.Choose(was.Trial.Current.Glasses[^1].Code) }, Cancellation);
        using var volume = await Maker.SendAsync($"trials/{scaled}/scale", $"trials/{scaled}/scale", ("do", "volume"), ("volume", "18.1"), ("stabilized", "no"));
        Trial(scaled, "", "paper", "scale");
        var held = await PlannedAsync("held", "tannin");
        using var filled = await Maker.SendAsync($"trials/{held}", $"trials/{held}/jars");
        Trial(held, "", "tasting");
        var free = await PlannedAsync("free", "sucrose");
        foreach (var act in (string[])["add-0-0", "sip", "add-0-1", "dilute", "sip"])
        {
            using var sent = await Maker.SendAsync($"trials/{free}/tasting", $"trials/{free}/free", ("act", act), ("note", act == "sip" ? "rounder, still short" : ""));
        }

        Trial(free, "", "tasting");
    }

    private async Task<long> PlannedAsync(string kind, string what)
    {
        using var planned = await Maker.SendAsync(
            "trials/new?batch=batch-1", "trials/new", ("batch", FullCellar.Busy), ("kind", kind), ("what", what), ("second", "tartaric-acid"), ("glasses", "5"),
            ("who", "Wren, Otis, Pim"), ("volume", "18.6"), ("gravity", "0.996"), ("alcohol", "12.5"), ("ph", "3.45"), ("titratable-acidity", "5.5"));
        Assert.True(planned.Headers.Location is not null, await planned.Content.ReadAsStringAsync(Cancellation));
        return long.Parse(planned.Headers.Location.ToString().Split('/')[^1], CultureInfo.InvariantCulture);
    }

    private Task<StoredTrial?> ScoredAsync(long id) => Store.ChangeTrialAsync(
        id,
        was => was with
        {
            Trial = was.Trial.Request.Tasters.Aggregate(was.Trial, (trial, taster) => trial.Current.Glasses.Aggregate(
                trial.WithRanking(new(taster, [.. trial.Current.Glasses.OrderByDescending(glass => Liked(glass)).Select(glass => glass.Code)])),
                (before, glass) => before.WithScore(new(taster, glass.Code, glass.DosesGramsPerLiter[0] < 10 ? Oenology.Tasting.JustAboutRight.TooLittle : Oenology.Tasting.JustAboutRight.Right, Liking: Liked(glass), Note: "dark fruit")))),
        },
        Cancellation);

    private static int Liked(TrialGlass glass) => 9 - (int)Math.Abs(glass.DosesGramsPerLiter[0] - 10) / 2;

    private async Task GuestsAsync()
    {
        const string Door = "tasting/" + FullCellar.GuestCode;
        Add("/tasting", "tasting", Seer.Stranger);
        Add("/tasting/{code}", Door, Seer.Stranger);
        var codes = Store.ReadTrial(1)!.Trial.Current.CodesFor(2);
        foreach (var (seer, name) in ((Seer, string)[])[(Seer.Guest, "Pim"), (Seer.GuestWhoIsDone, "Otis")])
        {
            using var seated = await _visitors[seer].SendAsync(Door, Door, ("taster", name));
            Assert.Equal(global::System.Net.HttpStatusCode.Redirect, seated.StatusCode);
        }

        foreach (var code in codes)
        {
            using var sent = await _visitors[Seer.GuestWhoIsDone].SendAsync($"{Door}/glass/{code}", $"{Door}/glass/{code}", ("sweet", "right"), ("liking", "6"));
        }

        using var ordered = await _visitors[Seer.GuestWhoIsDone].SendAsync(Door + "/order", Door + "/order", [.. codes.Select(code => ("order", code))]);
        Add("/tasting/{code}/glass/{glass}", $"{Door}/glass/{codes[0]}", Seer.Guest);
        Add("/tasting/{code}/order", Door + "/order", Seer.Guest);
        Add("/tasting/{code}/done", Door + "/done", Seer.GuestWhoIsDone);
    }

    private async Task FilesAsync()
    {
        var desk = Cellar.Service.Services.GetRequiredService<ImportDesk>();
        var rows = new StringBuilder("time,gravity,temperature\n");
        for (var hour = 0; hour < 30; hour++)
        {
            rows.AppendLine(CultureInfo.InvariantCulture, $"{FullCellar.Text(FullCellar.Start.AddHours(hour - 60))},{(hour == 7 ? "9.9" : "1.0500")},19.5");
        }

        foreach (var isStored in (bool[])[false, true])
        {
            using var content = new MemoryStream(Encoding.UTF8.GetBytes(rows.ToString()));
            var file = await desk.AddAsync("attic float.csv", content, Cancellation);
            if (isStored)
            {
                desk.Start(file, ImportGuess.Of(file.Open, TimeZoneInfo.Utc, "attic"));
                await Eventually.TrueAsync(() => file.State is not (ImportState.Running or ImportState.Previewed), "the file is not stored");
            }

            Add("/import/{key}", "import/" + file.Key);
        }
    }

    private async Task DoorsAsync()
    {
        Add("/sign-in", "sign-in", Seer.Stranger);
        using var invited = await Maker.SendAsync("people", "people", ("do", "invite"), ("name", "Tess"), ("role", "taster"));
        var link = new Uri(Visitor.Made(await invited.Content.ReadAsStringAsync(Cancellation)));
        Add("/invitation/{code}", link.AbsolutePath.TrimStart('/'), Seer.Stranger);
        Add("/invitation/{code}", "invitation/none", Seer.Stranger);
        var thread = AlertJson.ReadSet(Store.ReadAlertSet(new BatchId("batch-2"))!).Alerts.First(alert => alert.Standing is AlertStanding.Raised).Thread;
        var links = Cellar.Service.Services.GetRequiredService<ActLinks>();
        foreach (var word in (string[])["on-it", "snooze", "wrong"])
        {
            Add("/act/{token}", ActLinks.Path + links.Token(word, thread, TimeSpan.FromMinutes(600)), Seer.Stranger);
        }
    }

    private async Task BookAsync()
    {
        using var started = await Maker.SendAsync(
            "start", "start", ("name", "Bottom shelf perry"), ("kind", "wine"), ("vessel", "Vessel 21"), ("batch-volume", "9"), ("at", FullCellar.Start.ToString("yyyy-MM-dd'T'HH:mm", CultureInfo.InvariantCulture)), ("stages", "by-stage"), ("placement", "in-liquid"));
        Assert.True(started.Headers.Location is not null, await started.Content.ReadAsStringAsync(Cancellation));
        var key = started.Headers.Location.ToString().Split('/')[^1].Split('?')[0];
        await Eventually.TrueAsync(() => Cellar.Service.Services.GetRequiredService<Board>().State.Snapshot.Find(key) is not null, "the batch is not on the board");
        Add("/batch/{id}/edit", $"batch/{key}/edit");
        var entry = await Store.AppendJournalAsync(
            new BatchId(FullCellar.Busy), new JournalDraft(JournalKind.NutrientAdded, EventTime.From(FullCellar.Start.AddDays(-5)), "half of what the sheet says") { By = "Ada" }, null, Cancellation);
        Cellar.Service.Services.GetRequiredService<PipelineSignals>().Touch([new BatchId(FullCellar.Busy)]);
        Add("/batch/{id}/journal/{entry:long}/correct", string.Create(CultureInfo.InvariantCulture, $"batch/{FullCellar.Busy}/journal/{entry}/correct"));
    }
}
