using System.Net;
using System.Text.RegularExpressions;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service.Dashboard;
using Xunit;

namespace FermentWatch.System.Tests.Dashboard;

/// <summary>What the page of a batch says about its gates.</summary>
public sealed partial class GateSectionTests
{
    private static readonly EventTime Now = EventTime.From(InventedCellar.Now);

    [Fact]
    public async Task ReadyByTheSensor_WaitsForTheHandReading()
    {
        var gates = await GatesAsync(Ready());
        Assert.Contains("The final gravity is reached Told as ready Oct 5, 6:38 pm; a hand reading of a degassed sample is missing since then.", gates, StringComparison.Ordinal);
        Assert.DoesNotContain("turned off", gates, StringComparison.Ordinal);
    }

    [Fact]
    public async Task HandReadingTurnedOff_IsSaidWithWhatItCosts()
    {
        var entry = Ready();
        entry = entry with { View = entry.View with { Batch = entry.View.Batch with { Limits = ValueList.Of(new OwnLimit("limit-gate-hand-readings", 0)) } } };
        var gates = await GatesAsync(entry);
        Assert.Contains("Told as ready Oct 5, 6:38 pm by the sensor alone: the hand reading is turned off for this batch.", gates, StringComparison.Ordinal);
        Assert.Contains("the wine may be stabilized with sugar that still ferments", gates, StringComparison.Ordinal);
        Assert.Contains("Set for this batch: Hand readings that stabilizing waits for when a sensor says ready: 0.", gates, StringComparison.Ordinal);
    }

    [Fact]
    public async Task HandReadingFarFromTheSensor_IsAReasonWithItsFigures()
    {
        var gates = await GatesAsync(With(Ready(), Entry(1, JournalKind.MeasuredByHand, TimeSpan.FromHours(3), 1.004)));
        Assert.Contains("1.004 by hand and 0.996 by the sensor do not agree", gates, StringComparison.Ordinal);
        Assert.Contains("look for foam or yeast on the sensor", gates, StringComparison.Ordinal);
    }

    [Fact]
    public async Task RackingPlanned_ShowsTheTopUpPlanInTheReadersUnits()
    {
        var entry = InventedCellar.LyingStill();
        entry = entry with { View = entry.View with { Batch = entry.View.Batch with { Volume = Volume.FromLiters(20) } } };
        var gates = await GatesAsync(With(entry, Entry(1, JournalKind.RackingPlanned, TimeSpan.FromHours(3), null, ("receiving-vessel", 20), ("receiving-headspace", 300))));
        Assert.Contains("Of 20 L, 5 to 10 % stay with the lees: 18 L to 19 L come over, and the vessel takes 19.7 L. Have 700 mL to 1700 mL of like wine ready to top up.", gates, StringComparison.Ordinal);
        Assert.Contains("The receiving vessel is known A vessel of 20 L with 300 mL of headspace.", gates, StringComparison.Ordinal);
    }

    [Fact]
    public async Task TrialDeclined_IsSaidAtTheSweeteningGate()
    {
        var gates = await GatesAsync(With(InventedCellar.LyingStill(), Entry(1, JournalKind.TrialDeclined, TimeSpan.FromHours(4))));
        Assert.Contains("A bench trial is done, or declined Declined Oct 6, 2:38 pm.", gates, StringComparison.Ordinal);
        Assert.Contains("It was not stabilized, and no way without sulfite is chosen.", gates, StringComparison.Ordinal);
    }

    [Fact]
    public async Task EveryWayOfBottling_ShowsThePressureWithItsOdds()
    {
        var gates = await GatesAsync(With(InventedCellar.LyingStill(), Entry(1, JournalKind.MeasuredByHand, TimeSpan.FromHours(4), null, ("sugar-test", 3)), Entry(2, JournalKind.Stirred, TimeSpan.FromHours(3))));
        Assert.Equal(5, Regex.Count(gates, @"If it referments anyway: \d\.\d to \d\.\d bar above the air at 20\.0 °C and up to \d\.\d bar at 30\.0 °C, from 2 to 4 g/L of sugar \(by the sugar test of Oct 6, 2:38 pm; strips that see only glucose miss fructose\), 0\.5 g/L of CO₂ \(degassed Oct 6, 3:38 pm\)"));
        Assert.Contains("Neither pasteurizing nor sterile filtering was written down.", gates, StringComparison.Ordinal);
        Assert.Contains("No rating of bottle or keg was written down", gates, StringComparison.Ordinal);
    }

    [Fact]
    public async Task StuckByAForcedTest_LeadsToAPlanForThisBatch()
    {
        var entry = InventedCellar.LyingStill();
        var view = entry.View with { Batch = entry.View.Batch with { Tolerance = AlcoholByVolume.FromPercent(13.5), Volume = Volume.FromLiters(20) } };
        entry = With(entry with { View = view }, Entry(1, JournalKind.ForcedTest, TimeSpan.FromDays(1), 0.990), Entry(2, JournalKind.Stabilized, TimeSpan.FromHours(2), null, ("sorbate", 4)));
        await using var site = await DashboardSite.StartAsync(InventedCellar.Of(entry));
        var html = await site.Client.GetStringAsync("batch/damson", TestContext.Current.CancellationToken);
        var link = WebUtility.HtmlDecode(Regex.Match(html, "href=\"([^\"]*restart-plan[^\"]*)\"").Groups[1].Value);
        Assert.EndsWith("bench/restart-plan?batch=damson&tolerance=13.5&sorbate=yes", link, StringComparison.Ordinal);
        var plan = await site.Client.GetStringAsync(new Uri(new Uri(site.Root, "batch/damson"), link), TestContext.Current.CancellationToken);
        Assert.Contains("value=\"13.5\"", plan, StringComparison.Ordinal);
    }

    [Fact]
    public async Task BottledLot_ShowsItsSentinelAndWhatAHardOneMeans()
    {
        var entry = InventedCellar.LyingStill();
        var bottled = Entry(1, JournalKind.Bottled, TimeSpan.FromDays(5)) with { Values = ValueList.Of(new JournalValue("sentinel", null, "plastic")) };
        var look = Entry(2, JournalKind.BottleChecked, TimeSpan.FromDays(1)) with { Values = ValueList.Of(new JournalValue("feel", null, "hard")) };
        entry = With(entry with { View = entry.View with { Stage = new StageSpan(BatchStage.BottledWatch, bottled.At, 1) } }, bottled, look);
        var gates = await GatesAsync(entry);
        Assert.Contains("After bottling: the sentinel.", gates, StringComparison.Ordinal);
        Assert.Contains("Hard Oct 5, 6:38 pm: it referments. Chill the lot now", gates, StringComparison.Ordinal);
        Assert.Contains("Day 3: looked at Oct 5, 6:38 pm.", gates, StringComparison.Ordinal);
        Assert.Contains("Day 7: on Oct 8, 6:38 pm.", gates, StringComparison.Ordinal);
        Assert.Contains("every bottle of the lot may burst", gates, StringComparison.Ordinal);
    }

    private static BoardEntry Ready()
    {
        var entry = InventedCellar.LyingStill();
        var because = Reason.Of("ready-rests", new ReasonValue.Gravity(0.996), new ReasonValue.Odds(0.95));
        return entry with { Alerts = ValueList.Of(new OpenAlert("ready-to-stabilize", "damson", Severity.Action, InventedCellar.Now - TimeSpan.FromDays(1), because)) };
    }

    private static JournalEntry Entry(long id, JournalKind kind, TimeSpan ago, double? gravity = null, params (string Field, double Number)[] values) =>
        new(id, kind, Now - ago, "", gravity is { } ratio ? SpecificGravity.FromRatio(ratio) : null, null, false)
        {
            Values = ValueList.Of(values.Select(value => new JournalValue(value.Field, value.Number, null))),
        };

    private static BoardEntry With(BoardEntry entry, params JournalEntry[] journal) =>
        entry with { View = entry.View with { Journal = ValueList.Of(journal.OrderBy(one => one.At)) } };

    private static async Task<string> GatesAsync(BoardEntry entry)
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Of(entry));
        var html = await site.Client.GetStringAsync($"batch/{entry.View.Batch.Id}", TestContext.Current.CancellationToken);
        var section = Regex.Match(html, "<section id=\"gates\">.*?</section>", RegexOptions.Singleline).Value;
        Assert.NotEmpty(section);
        return Space().Replace(WebUtility.HtmlDecode(Tags().Replace(section, " ")).Replace('\u00a0', ' '), " ");
    }

    [GeneratedRegex("<[^>]+>")]
    private static partial Regex Tags();

    [GeneratedRegex("\\s+")]
    private static partial Regex Space();
}
