using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Gates;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Gates;

/// <summary>When to rack and into what. Times and losses: common practice, no source.</summary>
public sealed class RackGateTests
{
    private readonly GateStory _story = new();

    // 7 points a day at first; then 0.6 and 0.8 a day, below and above a tenth.
    [Theory]
    [InlineData(1.014, ConditionState.Met)]
    [InlineData(1.012, ConditionState.NotMet)]
    public void RateOfHandReadings_IsHeldAgainstATenthOfItsFastest(double last, ConditionState state)
    {
        _story.Read(0, 1.090);
        _story.Read(10, 1.020);
        _story.Read(20, last);
        var condition = _story.Of(20.5, GateKind.Rack, "slow");
        Assert.Equal((state, "gate-rate"), (condition.State, condition.Because.Code));
        Assert.Equal(0.007, ((ReasonValue.Gravity)condition.Because.Values[1]).Ratio, 1e-9);
    }

    [Theory]
    [InlineData(FermentKind.Wine, false, 7, 14)]
    [InlineData(FermentKind.Mead, true, 7, 14)]
    [InlineData(FermentKind.Mead, false, 14, 28)]
    public void LeesTime_CountsFromTheFirstOfTheReadingsThatAgree(FermentKind kind, bool hasFruit, int least, int most)
    {
        _story.Kind = kind;
        if (hasFruit)
        {
            _story.Write(1, JournalKind.FruitIn);
        }

        _story.Read(0, 1.090);
        _story.Read(20, 0.996);
        Assert.Equal((ConditionState.Unknown, "gate-rack-no-end"), Time(21));
        // A mead's readings agree over 14 days; by then the time on gross lees is over, on clean ones it begins.
        _story.Read(34, 0.996);
        Assert.Equal(least <= 14 ? ConditionState.Met : ConditionState.NotMet, Time(34).State);
        Assert.Equal((ConditionState.Met, "gate-lees-late"), Time(20.1 + most));
        var values = _story.Of(34.5, GateKind.Rack, "lees-time").Because.Values.OfType<ReasonValue.Moment>().Select(value => value.At).ToList();
        Assert.Equal([GateStory.Day(20), GateStory.Day(20 + least), GateStory.Day(20 + most)], values);
    }

    [Fact]
    public void WineThatEndedAWeekAgo_WaitsNoLongerThanItsMakerSet()
    {
        _story.Read(20, 0.996);
        _story.Read(27, 0.996);
        _story.Settings = GateSettings.Default with { GrossLeesAtLeast = TimeSpan.FromDays(10) };
        Assert.Equal((ConditionState.NotMet, "gate-lees-gross-wait"), Time(29.9));
        Assert.Equal((ConditionState.Met, "gate-lees-time"), Time(30.1));
    }

    [Fact]
    public void PlannedDay_CountsBeforeTheEndIsKnown_UntilItIsRacked()
    {
        _story.Write(10, JournalKind.RackingPlanned, ("planned-in", 5));
        Assert.Equal((ConditionState.NotMet, "gate-rack-planned-for"), Time(14.9));
        Assert.Equal((ConditionState.Met, "gate-rack-planned"), Time(15.1));
        _story.Write(16, JournalKind.Racked, ("volume", 18));
        Assert.Equal((ConditionState.Unknown, "gate-rack-no-end"), Time(17));
    }

    // 20 L lose 1 to 2 L: 18.0 to 19.0 L come over.
    [Theory]
    [InlineData(20, 300, "gate-top-up", 700, 1700)]
    [InlineData(19, 200, "gate-top-up-either", 800, 200)]
    [InlineData(15, 100, "gate-top-up-over", 3100, 4100)]
    public void TopUpPlan_IsTheGapAfterTheLees(double vessel, double headspace, string code, double first, double second)
    {
        _story.Volume = Volume.FromLiters(20);
        _story.Write(10, JournalKind.RackingPlanned, ("receiving-vessel", vessel), ("receiving-headspace", headspace));
        var gate = _story.At(11).Single(one => one.Kind is GateKind.Rack);
        Assert.Equal(code, gate.Beside[0].Code);
        Assert.Equal([20, 18, 19, vessel - (headspace / 1000), first, second], gate.Beside[0].Values.OfType<ReasonValue.Amount>().Select(value => Math.Round(value.Number, 6)));
        Assert.Equal(ConditionState.Met, _story.Of(11, GateKind.Rack, "vessel").State);
    }

    [Fact]
    public void VesselWithoutHeadspaceOrVolume_PlansNothing()
    {
        _story.Write(10, JournalKind.RackingPlanned, ("receiving-vessel", 19));
        Assert.Equal((ConditionState.Unknown, "gate-vessel-no-headspace"), _story.Of(11, GateKind.Rack, "vessel") is var found ? (found.State, found.Because.Code) : default);
        _story.Write(11, JournalKind.RackingPlanned, ("receiving-vessel", 19), ("receiving-headspace", 200));
        Assert.Equal("gate-rack-after", Assert.Single(_story.At(12).Single(one => one.Kind is GateKind.Rack).Beside).Code);
    }

    [Fact]
    public void MalolacticUnderWay_IsNoTimeToRack()
    {
        _story.Write(20, JournalKind.MalolacticStarted);
        Assert.Equal(ConditionState.NotMet, _story.Of(21, GateKind.Rack, "malolactic").State);
    }

    private (ConditionState State, string Code) Time(double day) => _story.Of(day, GateKind.Rack, "lees-time") is var condition ? (condition.State, condition.Because.Code) : default;
}
