using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Alerting;

public sealed class SilenceOfSeveralBatchesTests
{
    private static readonly DateTimeOffset Start = new(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);
    private static readonly AlertSettings Settings = AlertSettings.Default with { Channels = ValueList.Of<string>("relay") };

    [Fact]
    public void AllSensorsOfAllBatchesFallSilent_IsOneNoticeThatSaysSo()
    {
        var drafts = Live(hours: 9, [new("quince-mead", 360, 31.0), new("sloe-wine", 353, 20), new("perry", 348, 20)]);

        var draft = Assert.Single(drafts);
        Assert.Equal("title-silent-several-batches", draft.Title.Code);
        Assert.Equal("silent-everywhere", draft.Body[0].Code);
        Assert.Equal(new ReasonValue.Count(3), draft.Body[0].Values[0]);
    }

    [Fact]
    public void TwoOfThreeBatchesFallSilent_NamesOneAndCountsTheOther()
    {
        var drafts = Live(hours: 9, [new("quince-mead", 360, 20), new("sloe-wine", 353, 20), new("perry", 540, 20)]);

        var draft = Assert.Single(drafts);
        Assert.Equal("silent-in-batches", draft.Body[0].Code);
    }

    [Fact]
    public void BatchesSilentHoursApart_AreToldApart()
    {
        var drafts = Live(hours: 12, [new("quince-mead", 360, 20), new("sloe-wine", 540, 20)]);

        Assert.Equal(["title-silent", "title-silent"], drafts.Select(draft => draft.Title.Code));
        Assert.Equal(2, drafts.Select(draft => draft.Thread).Distinct().Count());
    }

    [Fact]
    public void AllHeardAgain_IsOneAllClearOfTheSameThread()
    {
        var drafts = Live(hours: 14, [new("quince-mead", 360, 20, 600), new("sloe-wine", 353, 20, 607)]);

        Assert.Equal(["title-silent-several-batches", "title-heard-again"], drafts.Select(draft => draft.Title.Code));
        Assert.Single(drafts.Select(draft => draft.Thread).Distinct());
        Assert.True(drafts[1].Silent);
    }

    [Fact]
    public void OnlyTemperatureNearALimit_IsUrgentAndBreaksThroughTheNight()
    {
        // Silent from 21:00 on, found at 23:00.
        var drafts = Live(hours: 16, [new("quince-mead", 13 * 60, 31.2)]);

        Assert.Equal((Severity.Urgent, ReceivedAt.From(Start.AddHours(15).AddMinutes(1))), (drafts[0].Severity, drafts[0].NextAttemptAt));
    }

    /// <summary>A probe every 15 minutes until one minute, and again from another.</summary>
    private sealed record Probe(string Batch, int LastMinute, double Celsius, int? AgainFrom = null);

    private static List<OutboxDraft> Live(int hours, Probe[] probes)
    {
        var sets = probes.Select(_ => AlertSet.Empty).ToArray();
        var drafts = new List<OutboxDraft>();
        for (var minute = 0; minute <= hours * 60; minute++)
        {
            var views = probes.Select(probe => View(probe, minute)).ToList();
            var pass = new Pass(ReceivedAt.From(Start.AddMinutes(minute)), TimeSpan.FromMinutes(minute == 0 ? 0 : 1), TimeZoneInfo.Utc);
            var results = Alerts.StepAll([.. sets.Zip(views)], Settings, pass);
            drafts.AddRange(NoticePlan.For([.. views.Zip(results)], Settings, pass).Drafts);
            sets = [.. results.Select(result => result.Now)];
        }

        return drafts;
    }

    private static BatchView View(Probe probe, int minute)
    {
        var key = new SeriesKey(new SensorId(probe.Batch + " probe"), QuantityKind.Temperature);
        var readings = Enumerable.Range(0, minute + 1)
            .Where(at => at <= probe.LastMinute ? (probe.LastMinute - at) % 15 == 0 : at >= probe.AgainFrom && (at - probe.AgainFrom) % 15 == 0)
            .Select(at => new Reading(
                EventTime.From(Start.AddMinutes(at)), at, null, ReceivedAt.From(Start.AddMinutes(at)), probe.Celsius, probe.Celsius, ClockTrusted: true))
            .ToList();
        return BatchViews.Of(
            probe.Batch,
            probe.Batch,
            band: null,
            [new SensorAttachment(key.Sensor, EventTime.From(Start), Until: null, Placement.InLiquid)],
            [key],
            [new SeriesReadings(key, readings)],
            Settings,
            EventTime.From(Start.AddMinutes(minute)));
    }
}
