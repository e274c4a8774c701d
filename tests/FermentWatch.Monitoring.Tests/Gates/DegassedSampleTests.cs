using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Gates;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Gates;

/// <summary>What a sample counts for that is said to have held gas. That bubbles lift a hydrometer: common practice, no source.</summary>
public sealed class DegassedSampleTests
{
    private readonly GateStory _story = new();

    [Fact]
    public void SamplesWithGas_ShowNothingFlat()
    {
        Read(20, 0.996, "no");
        Read(27, 0.996, "no");
        Read(34, 0.996, "no");
        Assert.Equal((ConditionState.Unknown, "gate-hand-gassy"), Of(34.5));
        Assert.Equal(ConditionState.Unknown, _story.Bottle(34.5, BottlePath.DryAndFlat, "three-flat").State);
    }

    [Fact]
    public void OneWithGasBetweenOthers_NeitherCountsNorBreaks()
    {
        Read(20, 0.995, "yes");
        Read(27, 0.999, "no");
        Assert.Equal((ConditionState.NotMet, "gate-hand-gassy"), Of(27.5));
        Read(34, 0.995, "yes");
        Assert.Equal((ConditionState.Met, "gate-hand-agree"), Of(34.5));
        // Two that count are not three.
        Assert.Equal("gate-hand-few", _story.Bottle(34.5, BottlePath.DryAndFlat, "three-flat").Because.Code);
    }

    [Theory]
    [InlineData("yes", "yes", "gate-samples-degassed")]
    [InlineData("yes", null, "gate-samples-untold")]
    [InlineData(null, null, "gate-samples-untold")]
    public void WhatWasNotTold_CountsAndIsShown(string? first, string? second, string code)
    {
        Read(20, 0.995, first);
        Read(34, 0.995, second);
        var condition = _story.Of(34.5, GateKind.Stabilize, "final-gravity");
        Assert.Equal((ConditionState.Met, "gate-hand-agree"), (condition.State, condition.Because.Code));
        Assert.Equal(code, condition.Because.Values.OfType<ReasonValue.Words>().Single().Of.Code);
    }

    [Fact]
    public void LowerAlthoughGasLifts_ShowsThatItFalls()
    {
        Read(20, 0.997, "yes");
        Read(34, 0.997, "yes");
        Read(35, 0.994, "no");
        Assert.Equal((ConditionState.NotMet, "gate-hand-gassy-lower"), Of(35.5));
        Assert.Equal("gate-hand-gassy-lower", _story.Bottle(35.5, BottlePath.DryAndFlat, "three-flat").Because.Code);
    }

    [Fact]
    public void AfterReady_ASampleWithGasIsNoHandReading()
    {
        _story.Ready = 20.5;
        _story.Sensor.AddRange([(20, 0.995), (20.9, 0.995)]);
        Read(21, 0.995, "no");
        Assert.Equal((ConditionState.Unknown, "gate-hand-gassy"), Of(21.5));
        _story.Settings = GateSettings.Default with { HandReadings = 0 };
        Assert.Equal((ConditionState.Met, "gate-ready-hand-off"), Of(21.5));
        _story.Settings = GateSettings.Default;
        Read(21.2, 0.995, "yes");
        var condition = _story.Of(21.5, GateKind.Stabilize, "final-gravity");
        Assert.Equal((ConditionState.Met, "gate-ready-hand-agrees"), (condition.State, condition.Because.Code));
        Assert.Equal("gate-samples-degassed", condition.Because.Values.OfType<ReasonValue.Words>().Single().Of.Code);
    }

    private (ConditionState, string) Of(double day) => _story.Of(day, GateKind.Stabilize, "final-gravity") is var condition ? (condition.State, condition.Because.Code) : default;

    private void Read(double day, double gravity, string? degassed) => _story.Add(
        day,
        JournalKind.MeasuredByHand,
        FermentWatch.Oenology.Quantities.SpecificGravity.FromRatio(gravity),
        degassed is null ? ValueList.Of<JournalValue>() : ValueList.Of(new JournalValue("degassed", null, degassed)));
}
