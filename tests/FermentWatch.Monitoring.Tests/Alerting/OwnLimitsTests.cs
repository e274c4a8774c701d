using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Rules;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Gates;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Alerting;

public sealed class OwnLimitsTests
{
    private static readonly SensorAttachment Probe = new(new SensorId("probe"), new EventTime(0), Until: null, Placement.InLiquid);

    public static TheoryData<string> Names => [.. AlertLimitCatalog.All.Select(limit => limit.Field.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void EachLimit_IsReadBackAsItWasSetAndMovesNothingElse(string name)
    {
        var limit = AlertLimitCatalog.Find(name)!;
        var usual = limit.Of(AlertSettings.Default);
        Assert.InRange(usual, limit.Field.Low, limit.Field.High);
        foreach (var value in new[] { limit.Field.Low, limit.Field.High })
        {
            var set = limit.With(AlertSettings.Default, value);
            Assert.Equal(value, limit.Of(set), 1e-9);
            Assert.All(AlertLimitCatalog.All, other => Assert.Equal(other.Of(AlertSettings.Default), other.Of(limit.With(set, usual)), 1e-9));
            Assert.All(AlertLimitCatalog.All.Where(other => other != limit), other => Assert.Equal(other.Of(AlertSettings.Default), other.Of(set), 1e-9));
        }
    }

    [Fact]
    public void EachRuleWithFigures_HasLimitsOfItsOwn() =>
        Assert.Equal(AlertRuleCatalog.All.Select(rule => rule.Id).Append(GateLimits.Rule).Order(), AlertLimitCatalog.All.Select(limit => limit.Rule).Distinct().Order());

    [Fact]
    public void UsualLimits_AreNotCrossed_AndCrossedOnesAreFound()
    {
        Assert.Empty(OwnLimits.Crossed(AlertSettings.Default));
        var crossed = OwnLimits.Crossed(AlertSettings.Default.For(ValueList.Of(new OwnLimit("limit-stuck-clear", 80))));
        Assert.Equal("limit-stuck-raise", Assert.Single(crossed).Upper.Field.Name);
    }

    [Fact]
    public void LimitsOutOfRangeOrUnknown_ChangeNothing() =>
        Assert.Equal(AlertSettings.Default, AlertSettings.Default.For(ValueList.Of(new OwnLimit("limit-danger-hot", 90), new OwnLimit("limit-of-tomorrow", 1))));

    [Fact]
    public void OnlyWhatDiffers_IsABatchsOwn()
    {
        var values = AlertLimitCatalog.All.ToDictionary(limit => limit.Field.Name, limit => limit.Of(AlertSettings.Default));
        Assert.Empty(OwnLimits.Differing(AlertSettings.Default, values));
        values["limit-danger-hot"] = 30;
        Assert.Equal(new OwnLimit("limit-danger-hot", 30), Assert.Single(OwnLimits.Differing(AlertSettings.Default, values)));
    }

    [Theory]
    [InlineData(null, false)]
    [InlineData(28.0, true)]
    public void BatchWithItsOwnLimit_IsJudgedByIt(double? hot, bool isRaised)
    {
        var batch = BatchViews.Batch("quince-mead", "Quince mead", new TemperatureBand(Temperature.FromCelsius(18), Temperature.FromCelsius(31)), [Probe]) with
        {
            Limits = hot is { } celsius ? ValueList.Of(new OwnLimit("limit-danger-hot", celsius)) : ValueList.Of<OwnLimit>(),
        };
        var readings = Enumerable.Range(0, 40).Select(i => new EventTime(0) + TimeSpan.FromMinutes(10 * i))
            .Select((at, i) => new Reading(at, i, null, new ReceivedAt(at.UnixMicroseconds), 29, 29, true)).ToList();
        var facts = new BatchFacts(batch, [], [new SeriesReadings(new SeriesKey(Probe.Sensor, QuantityKind.Temperature), readings)]);
        var view = BatchAnalysis.View(facts, ViewSettings.Default, Monitoring.Forecasting.PriorSnapshot.Shipped, readings[^1].At);
        var danger = view.Episodes.Where(episode => episode.Rule == TemperatureDangerRule.Id).ToList();

        Assert.Equal(isRaised, danger.Count > 0);
        // The reason tells the limit that was crossed.
        Assert.All(danger, episode => Assert.Equal(new ReasonValue.Degrees(28), episode.Because.Values[2]));
    }

    [Fact]
    public void BatchesOfOnePass_EachHaveTheirOwnSilence()
    {
        var patient = ValueList.Of(new OwnLimit("limit-silent-temperature", 12));
        var told = new Dictionary<string, List<AlertTransition>>();
        foreach (var (name, limits) in new[] { ("usual", ValueList.Of<OwnLimit>()), ("patient", patient) })
        {
            var set = AlertSet.Empty;
            told[name] = [];
            for (var minute = 0; minute <= 6 * 60; minute += 5)
            {
                var now = new EventTime(0) + TimeSpan.FromMinutes(minute);
                var heard = Enumerable.Range(0, Math.Min(minute, 60) / 5).Select(i => new EventTime(0) + TimeSpan.FromMinutes(5 * i)).Select((at, i) => new Reading(at, i, null, new ReceivedAt(at.UnixMicroseconds), 20, 20, true)).ToList();
                var series = new SeriesReadings(new SeriesKey(Probe.Sensor, QuantityKind.Temperature), heard);
                var view = BatchViews.Of(name, name, null, [Probe], [series.Series], [series], AlertSettings.Default, now);
                view = view with { Batch = view.Batch with { Limits = limits } };
                var result = Alerts.StepAll([(set, view)], AlertSettings.Default with { QuietHours = null }, new Pass(new ReceivedAt(now.UnixMicroseconds), TimeSpan.FromMinutes(5), TimeZoneInfo.Utc))[0];
                set = result.Now;
                told[name].AddRange(result.Transitions);
            }
        }

        Assert.Contains(told["usual"], one => one.Alert.Rule == SensorSilentRule.Id);
        Assert.DoesNotContain(told["patient"], one => one.Alert.Rule == SensorSilentRule.Id);
    }
}
