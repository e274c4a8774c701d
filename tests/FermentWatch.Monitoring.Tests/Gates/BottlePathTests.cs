using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Gates;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Gates;

/// <summary>Ways of bottling that need no sulfite, and the pressure if it referments anyway. Limits: common practice, no source.</summary>
public sealed class BottlePathTests
{
    private readonly GateStory _story = new() { Kind = FermentKind.Mead, Alcohol = 12, Volume = Volume.FromLiters(10) };

    // Minutes at 60 °C: t * 10^((T - 60) / 7). 67 °C counts ten times, 70 °C 26.8 times. From memory, as breweries count.
    [Theory]
    [InlineData(60, 50, ConditionState.Met, "gate-heated", 50)]
    [InlineData(60, 49, ConditionState.NotMet, "gate-heated", 49)]
    [InlineData(67, 5, ConditionState.Met, "gate-heated", 50)]
    [InlineData(70, 1.8, ConditionState.NotMet, "gate-heated", 48.27)]
    [InlineData(59.5, 300, ConditionState.NotMet, "gate-heated-too-little", 254.5)]
    public void Heat_CountsByTemperatureAndTime(double celsius, double minutes, ConditionState state, string code, double equal)
    {
        _story.Write(20, JournalKind.Pasteurized, ("heated-to", celsius), ("held-minutes", minutes));
        var condition = _story.Bottle(21, BottlePath.PasteurizedOrFiltered, "heated-or-filtered");
        Assert.Equal((state, code), (condition.State, condition.Because.Code));
        Assert.Equal(equal, condition.Because.Values.OfType<ReasonValue.Figure>().ElementAt(1).Value, 0.1);
    }

    [Theory]
    [InlineData(0.45, ConditionState.Met)]
    [InlineData(0.65, ConditionState.NotMet)]
    public void Filter_CountsByItsPores(double pore, ConditionState state)
    {
        _story.Write(20, JournalKind.SterileFiltered, ("pore", pore));
        Assert.Equal(state, _story.Bottle(21, BottlePath.PasteurizedOrFiltered, "heated-or-filtered").State);
    }

    [Fact]
    public void WhatCameInAfterTheHeat_MayLive()
    {
        Assert.Equal((ConditionState.Unknown, "gate-path-pasteurized"), Of(BottlePath.PasteurizedOrFiltered, "heated-or-filtered"));
        _story.Write(20, JournalKind.Pasteurized, ("heated-to", 65), ("held-minutes", 20));
        Assert.Equal(ConditionState.Met, Of(BottlePath.PasteurizedOrFiltered, "heated-or-filtered").State);
        _story.Write(21, JournalKind.Sweetened, ("kilograms", 0.3), ("sweetener", "honey"));
        Assert.Equal((ConditionState.NotMet, "gate-opened-since"), Of(BottlePath.PasteurizedOrFiltered, "heated-or-filtered"));
    }

    [Fact]
    public void Cold_IsShownByReadingsElseByASample()
    {
        Assert.Equal((ConditionState.Unknown, "gate-cold-unknown"), Of(BottlePath.KeptCold, "cold"));
        _story.Write(24, JournalKind.MeasuredByHand, ("sample-temperature", 3));
        Assert.Equal((ConditionState.Met, "gate-cold-by-hand"), Of(BottlePath.KeptCold, "cold"));
        _story.Warmth.AddRange([(10, 15), (19, 3.5), (23, 3.5)]);
        Assert.Equal((ConditionState.Met, "gate-cold"), Of(BottlePath.KeptCold, "cold"));
        _story.Warmth.Add((24.5, 5));
        Assert.Equal((ConditionState.NotMet, "gate-cold"), Of(BottlePath.KeptCold, "cold"));
    }

    // Wine of 12 % at 20 °C holds 1.4437 g/(L bar) by the method OIV-MA-AS314-01 and the 3 % of headspace 0.0530: 0.5 g/L left after degassing and 0.4886 g/g from
    // 2 and 4 g/L of sugar (a test of 3 may err by 1) give 0.99 and 1.64 bar; by hand.
    [Theory]
    [InlineData(FermentKind.Mead, "gate-pressure", 0.987, 1.640)]
    [InlineData(FermentKind.Wine, "gate-pressure-malic", 0.987, 2.078)]
    public void Pressure_IsThatOfTheGasThereAndTheSugarLeft(FermentKind kind, string code, double least, double most)
    {
        _story.Kind = kind;
        _story.Write(24, JournalKind.MeasuredByHand, ("sugar-test", 3));
        _story.Write(24, JournalKind.Stirred);
        var bottles = _story.At(25).Where(gate => gate.Kind is GateKind.Bottle).ToList();
        Assert.Equal(5, bottles.Count);
        Assert.All(bottles, gate => Assert.Equal(code, Assert.Single(gate.Beside).Code));
        var figures = bottles[0].Beside[0].Values.OfType<ReasonValue.Figure>().Select(figure => figure.Value).ToList();
        Assert.Equal(least, figures[0], 0.005);
        Assert.Equal(most, figures[1], 0.005);
        Assert.True(figures[2] > figures[1], "a warm bottle bears more");
        Assert.Equal([2.0, 4.0, 0.5], figures.Skip(3));
    }

    [Fact]
    public void ColdWineThatNobodyDegassed_IsTakenAsSaturatedAtItsColdest()
    {
        _story.Write(24, JournalKind.MeasuredByHand, ("sugar-test", 0));
        _story.Warmth.AddRange([(5, 2), (15, 12.2), (24, 18)]);
        var reason = _story.At(25)[^1].Beside[0];
        // Saturated at 12 °C: about 1.9 g/L, see StartingGas; the 2 °C of three weeks ago are no longer recent.
        Assert.Equal(1.9, reason.Values.OfType<ReasonValue.Figure>().ElementAt(5).Value, 0.06);
        Assert.Equal("gate-gas-coldest", reason.Values.OfType<ReasonValue.Words>().Last().Of.Code);
        _story.Warmth.Clear();
        Assert.Equal("gate-gas-assumed", _story.At(25)[^1].Beside[0].Values.OfType<ReasonValue.Words>().Last().Of.Code);
    }

    // Sucrose takes up water when it is split: 1 g is 1.0526 g of glucose and fructose (molar masses).
    [Fact]
    public void SugarAddedSince_CountsAsItFerments()
    {
        _story.Write(24, JournalKind.MeasuredByHand, ("sugar-test", 3));
        _story.Write(25, JournalKind.Sweetened, ("kilograms", 0.2), ("sweetener", "sugar"));
        var figures = _story.At(26)[^1].Beside[0].Values.OfType<ReasonValue.Figure>().Select(figure => figure.Value).ToList();
        // In 10.124 L: the sugar takes up room.
        Assert.Equal((2 + (200 * 1.0526 / 10.124), 4 + (200 * 1.0526 / 10.124)), (figures[3], figures[4]), new Near(0.01));
    }

    [Fact]
    public void NothingKnown_NoPressureIsInvented()
    {
        var story = new GateStory();
        Assert.All(story.At(25).Where(gate => gate.Kind is GateKind.Bottle), gate => Assert.Equal("gate-pressure-no-sugar", Assert.Single(gate.Beside).Code));
    }

    // 44.01 of 134.09 g: 2 g/L of malic acid give 0.66 g/L (molar masses).
    [Fact]
    public void WineWithoutAMalolacticFermentation_SaysWhatItWouldStillGive()
    {
        var story = new GateStory();
        var condition = story.Bottle(25, BottlePath.DryAndFlat, "malolactic");
        Assert.Equal((ConditionState.Unknown, "gate-malolactic-none-yet"), (condition.State, condition.Because.Code));
        Assert.Equal(0.656, ((ReasonValue.Figure)condition.Because.Values[0]).Value, 0.001);
    }

    [Theory]
    [InlineData(0.6, ConditionState.NotMet)]
    [InlineData(6, ConditionState.Met)]
    public void Rating_IsHeldAgainstTheWarmestDay(double bar, ConditionState state)
    {
        _story.Write(24, JournalKind.MeasuredByHand, ("sugar-test", 0));
        Assert.Equal((ConditionState.Unknown, "gate-rating-unknown"), Of(BottlePath.BottleConditioned, "rated"));
        _story.Write(24, JournalKind.PathChosen, ("path", "bottle-conditioned"), ("rated-pressure", bar));
        Assert.Equal((state, "gate-rating"), Of(BottlePath.BottleConditioned, "rated"));
        Assert.Equal((ConditionState.Unknown, "gate-rating-unknown"), Of(BottlePath.KeptCold, "rated"));
        Assert.True(_story.At(25).Single(gate => gate.IsChosen).Path is BottlePath.BottleConditioned);
    }

    [Fact]
    public void PrimingSugar_IsBoundedByTheRatingUntilItIsWrittenDown()
    {
        _story.Read(8, 0.995);
        _story.Read(23, 0.995);
        _story.Write(24, JournalKind.MeasuredByHand, ("sugar-test", 0));
        _story.Write(24, JournalKind.PathChosen, ("path", "bottle-conditioned"), ("rated-pressure", 7));
        var bound = _story.Bottle(25, BottlePath.BottleConditioned, "primed");
        Assert.Equal((ConditionState.Unknown, "gate-prime-at-most"), (bound.State, bound.Because.Code));
        var grams = ((ReasonValue.Figure)bound.Because.Values[0]).Value;

        // What is allowed keeps the rating, and a gram more breaks it.
        _story.Write(24.5, JournalKind.SugarAdded, ("kilograms", grams / 100), ("sweetener", "sugar"));
        Assert.Equal((ConditionState.Met, "gate-primed"), Of(BottlePath.BottleConditioned, "primed"));
        Assert.Equal(ConditionState.Met, Of(BottlePath.BottleConditioned, "rated").State);
        _story.Write(24.6, JournalKind.SugarAdded, ("kilograms", 0.02), ("sweetener", "sugar"));
        Assert.Equal(ConditionState.NotMet, Of(BottlePath.BottleConditioned, "rated").State);
    }

    private (ConditionState State, string Code) Of(BottlePath path, string code) => _story.Bottle(25, path, code) is var found ? (found.State, found.Because.Code) : default;

    private sealed class Near(double within) : IEqualityComparer<(double, double)>
    {
        public bool Equals((double, double) x, (double, double) y) => Math.Abs(x.Item1 - y.Item1) <= within && Math.Abs(x.Item2 - y.Item2) <= within;

        public int GetHashCode((double, double) obj) => 0;
    }
}
