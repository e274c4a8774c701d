using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Balance;
using FermentWatch.Service.Dashboard.Said;
using FermentWatch.Service.Dashboard.Words;
using Xunit;

namespace FermentWatch.System.Tests.Dashboard;

/// <summary>What a batch's page says of its balance, of what is due, and of what was said about it before.</summary>
public sealed class BalanceTests
{
    private static readonly Reader Metric = new(TimeZoneInfo.Utc, Units.Usual);

    [Fact]
    public void NothingMeasured_AcidAndTanninAreUnknownAndSayWhatWouldTell()
    {
        var rows = BalanceRow.Of(InventedCellar.MidFerment().View, Metric).ToDictionary(row => row.Part);
        Assert.Equal(["alcohol", "water", "sugar", "acid", "tannin"], rows.Keys);
        Assert.Equal(BalanceState.Computed, rows["alcohol"].State);
        Assert.Equal(BalanceState.Computed, rows["sugar"].State);
        Assert.Equal((BalanceState.Unknown, "titratable-acidity"), (rows["acid"].State, rows["acid"].Worksheet));
        Assert.Equal((BalanceState.Unknown, "tannin-powder"), (rows["tannin"].State, rows["tannin"].Worksheet));
    }

    // By hand: 1.066 x 998.2 g/L less alcohol x 7.8924 g/L less the sugar, to the next ten.
    [Fact]
    public void Water_IsTheDifference()
    {
        var view = InventedCellar.MidFerment().View;
        var grams = (view.LatestGravity!.Value.Value.Value * 998.2) - (view.Alcohol!.Value.Value.Percent * 7.8924) - view.SugarLeft!.Value.Value.GramsPerLiter;
        var row = BalanceRow.Of(view, Metric).Single(one => one.Part == "water");
        Assert.Equal($"about {Math.Round(grams / 10) * 10:0} g in a liter", row.Value.Replace("\u202f", "", StringComparison.Ordinal).Replace('\u00a0', ' '));
        Assert.InRange(grams, 800, 1000);
    }

    [Fact]
    public void MeasuredAndAdded_AreSaidAsSuch()
    {
        var view = InventedCellar.MidFerment().View;
        view = view with
        {
            Journal = ValueList.Of(
                Entry(1, view, JournalKind.MeasuredByHand, new("ph", 3.41, null), new("total-acid", 6.2, null)),
                Entry(2, view, JournalKind.TanninAdded, new JournalValue("grams", 4, null)),
                Entry(3, view, JournalKind.Note) with { Text = "Spring water, soft" }),
        };
        var rows = BalanceRow.Of(view, Metric).ToDictionary(row => row.Part);
        Assert.Equal((BalanceState.Measured, "6.2\u00a0g/L, pH\u00a03.41"), (rows["acid"].State, rows["acid"].Value));
        Assert.Equal(BalanceState.Computed, rows["tannin"].State);
        Assert.Contains("Spring water, soft", rows["water"].From, StringComparison.Ordinal);
    }

    [Fact]
    public void SugarTooLittleForGravity_IsUnknownAndNeverCalledDry()
    {
        var row = BalanceRow.Of(InventedCellar.LyingStill().View, Metric).Single(one => one.Part == "sugar");
        Assert.Equal(BalanceState.Unknown, row.State);
        Assert.Contains("Too little to tell from gravity", row.From, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0.9945, true)]
    [InlineData(0.9936, true)]
    [InlineData(0.9934, false)]
    [InlineData(1.0060, false)]
    public void SaidThen_HoldsWhatCameWithinAReading(double came, bool holds)
    {
        var said = SaidThen.Of(Kept("""{"finalGravity":{"p05":0.994,"p25":0.995,"p50":0.997,"p75":1.0,"p95":1.005},"finish":{"p05":"2026-10-12T00:00:00Z","p50":null,"p95":"2026-10-19T06:00:00Z"},"notYet":null}"""));
        Assert.Equal(holds, said.Holds(came));
        Assert.Equal(new DateTimeOffset(2026, 10, 12, 0, 0, 0, TimeSpan.Zero), said.Early!.Value.ToDateTimeOffset());
        Assert.Equal(new DateTimeOffset(2026, 10, 19, 6, 0, 0, TimeSpan.Zero), said.Late!.Value.ToDateTimeOffset());
    }

    [Fact]
    public void SaidThatItCouldNotTell_HoldsNothing() =>
        Assert.Null(SaidThen.Of(Kept("""{"finalGravity":{"p05":0.99,"p50":1.0,"p95":1.05},"finish":{},"notYet":"not-yet-too-early"}""")).Holds(1.0));

    // Common practice as in WaitingSettings: tannin waits 14 days, so 13 days later its tasting is tomorrow and 15 days later it is overdue.
    [Theory]
    [InlineData(13, "Tomorrow", 1)]
    [InlineData(15, "Due since", 0)]
    [InlineData(9, "Sunday, October 11", 1)]
    [InlineData(2, "Sunday, October 18", 2)]
    public void Tannin_IsDueAfterItsWait(int daysAgo, string when, int soon)
    {
        var view = InventedCellar.LyingStill().View;
        view = view with
        {
            Journal = ValueList.Of(new JournalEntry(1, JournalKind.TanninAdded, view.Now - TimeSpan.FromDays(daysAgo), "", null, null, false) { Values = ValueList.Of(new JournalValue("grams", 4, null)) }),
        };
        var line = DueLines.Of(view, new AlertSettings(), Metric).Single(one => one.What.Contains("tannin", StringComparison.Ordinal));
        Assert.StartsWith(when, line.When.Replace('\u00a0', ' '), StringComparison.Ordinal);
        Assert.Equal(soon, (int)line.In);
    }

    private static ForecastRecord Kept(string json) => new(EventTime.From(InventedCellar.Now), "test", "test", ReceivedAt.From(InventedCellar.Now), json);

    private static JournalEntry Entry(long id, BatchView view, JournalKind kind, params JournalValue[] values) =>
        new(id, kind, view.Now - TimeSpan.FromHours(4 - id), "", null, null, false) { Values = ValueList.Of(values) };
}
