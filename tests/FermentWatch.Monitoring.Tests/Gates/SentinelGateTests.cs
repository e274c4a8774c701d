using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Gates;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Limits;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Gates;

/// <summary>The bottle that stands for the lot. Days: common practice, no source.</summary>
public sealed class SentinelGateTests
{
    private readonly GateStory _story = new();

    [Fact]
    public void BeforeBottling_ThereIsNoWatch() => Assert.DoesNotContain(_story.At(60), gate => gate.Kind is GateKind.Sentinel);

    [Theory]
    [InlineData("plastic", ConditionState.Met)]
    [InlineData("gauge", ConditionState.Met)]
    [InlineData("none", ConditionState.NotMet)]
    [InlineData(null, ConditionState.Unknown)]
    public void Filled_IsWhatWasWrittenAtBottling(string? sentinel, ConditionState state)
    {
        Bottled(sentinel);
        Assert.Equal(state, _story.Of(61, GateKind.Sentinel, "sentinel-filled").State);
    }

    [Fact]
    public void Days_AreAnsweredByTheNextLook()
    {
        Bottled("plastic");
        _story.Write(66, JournalKind.BottleChecked, ("feel", "soft"));
        var days = Days(75);
        Assert.Equal([3L, 7, 14, 30, 60], days.Select(day => ((ReasonValue.Count)day.Because.Values[0]).Number));
        // Looked at on day 6: that is day 3, and day 7 is still to come then; day 14 is due, the rest ahead.
        Assert.Equal([ConditionState.Met, ConditionState.NotMet, ConditionState.NotMet, ConditionState.Unknown, ConditionState.Unknown], days.Select(day => day.State));
        _story.Write(74, JournalKind.BottleChecked);
        Assert.Equal(3, Days(75).Count(day => day.State is ConditionState.Met));
    }

    [Fact]
    public void DaysOfABatchsOwn_CountForRuleAndGate()
    {
        Bottled("plastic");
        var own = ValueList.Of(new OwnLimit("limit-sentinel-look-1", 5), new OwnLimit("limit-sentinel-look-5", 90));
        _story.Settings = GateSettings.For(AlertSettings.Default.For(own), Law.Strictest);
        Assert.Equal([5L, 7, 14, 30, 90], Days(75).Select(day => ((ReasonValue.Count)day.Because.Values[0]).Number));
    }

    [Fact]
    public void HotDay_AsksForALookOfItsOwn()
    {
        Bottled("plastic");
        _story.Warmth.AddRange([(61, 18), (65, 28)]);
        Assert.Contains(Conditions(66), condition => condition.Because.Code == "gate-sentinel-hot-day");
        _story.Write(66, JournalKind.BottleChecked, ("feel", "soft"));
        Assert.DoesNotContain(Conditions(66.5), condition => condition.Because.Code == "gate-sentinel-hot-day");
    }

    [Fact]
    public void WhatTheLookFound_Decides()
    {
        Bottled("gauge");
        Assert.Equal((ConditionState.Unknown, "gate-sentinel-nothing-told"), Soft());
        _story.Write(63, JournalKind.BottleChecked, ("gauge", 0.1));
        Assert.Equal((ConditionState.Met, "gate-sentinel-soft"), Soft());
        _story.Write(67, JournalKind.BottleChecked, ("gauge", 0.3));
        Assert.Equal(ConditionState.Met, Soft().State);
        _story.Write(70, JournalKind.BottleChecked, ("gauge", 0.5));
        Assert.Equal((ConditionState.NotMet, "gate-sentinel-rises"), Soft());
        _story.Write(71, JournalKind.BottleChecked, ("feel", "firm"));
        Assert.Equal((ConditionState.NotMet, "gate-sentinel-firm"), Soft());
        _story.Write(72, JournalKind.BottleChecked, ("feel", "hard"));
        Assert.Equal((ConditionState.NotMet, "gate-sentinel-hard"), Soft());
    }

    private void Bottled(string? sentinel) => _story.Write(
        60, JournalKind.Bottled, [("bottles", 24), ("fill", 750), ("path", "dry-and-flat"), .. sentinel is null ? Array.Empty<(string, object)>() : [("sentinel", sentinel)]]);

    private ValueList<GateCondition> Conditions(double day) => _story.At(day).Single(gate => gate.Kind is GateKind.Sentinel).Conditions;

    private List<GateCondition> Days(double day) => [.. Conditions(day).Where(condition => condition.Code == "sentinel-day")];

    private (ConditionState State, string Code) Soft() => _story.Of(75, GateKind.Sentinel, "sentinel-soft") is var found ? (found.State, found.Because.Code) : default;
}
