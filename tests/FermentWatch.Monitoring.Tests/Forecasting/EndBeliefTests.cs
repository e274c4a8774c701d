using FermentWatch.Monitoring.Forecasting;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Forecasting;

public class EndBeliefTests
{
    private const double Usually = 0.25;

    [Fact]
    public void Mean_IsTheDryEndWhereTheYeastBearsAllTheAlcohol()
    {
        // The kind's rule of thumb, by hand: 6.5 - 0.14 x 92 points.
        var belief = Belief(told: 92, tolerance: 18);
        Assert.Equal(6.5 - (0.14 * 92), belief.Mean, 0.2);
    }

    [Fact]
    public void Mean_IsWhereTheToleranceStopsIt()
    {
        // 10 % vol of a must of 120 points, by hand: 1000 x 10 / (125 + 0.065 x 120) = 75.3 points of fall.
        var belief = Belief(told: 120, tolerance: 10);
        Assert.Equal(120 - 75.3, belief.Mean, 0.5);
    }

    [Fact]
    public void Stuck_RisesWithTheLevelFromNoneToCertain()
    {
        var belief = Belief(told: 92, tolerance: 15);
        var last = 0.0;
        for (var level = belief.Mean; level < 80; level += 0.5)
        {
            var odds = belief.Stuck(level, Usually);
            Assert.InRange(odds, last - 1e-9, 1);
            last = odds;
        }

        Assert.True(belief.Stuck(belief.Mean, Usually) < 0.05);
        Assert.True(belief.Stuck(30, Usually) > 0.99);
    }

    [Fact]
    public void Stuck_IsBelievedLaterWhereNoToleranceWasTold()
    {
        // Half-way between dry and the start the told one leaves no doubt; without it the yeast may simply be at its end.
        var (told, untold) = (Belief(told: 115, tolerance: 17), Belief(told: 115, tolerance: null));
        Assert.True(untold.Spread > told.Spread + 2, $"{untold.Spread} and {told.Spread} points");
        Assert.True(untold.Stuck(20, Usually) < told.Stuck(20, Usually) - 0.2, $"{untold.Stuck(20, Usually)} and {told.Stuck(20, Usually)}");
    }

    [Fact]
    public void SugarLeft_IsEvenOddsWhereTheLevelLeavesJustEightGrams()
    {
        var belief = Belief(told: 92, tolerance: 18);
        Assert.Equal(0.5, belief.SugarLeft(belief.Mean + 3.8), 0.05);
        Assert.True(belief.SugarLeft(belief.Mean) < 0.25);
        Assert.True(belief.SugarLeft(40) > 0.999);
    }

    private static EndBelief Belief(double told, double? tolerance)
    {
        var input = new DrawnFerment { Told = told, Start = told, Tolerance = tolerance }.Input(200);
        var data = CurveData.From(input);
        var thermal = new ThermalTime(input.Temperature, data.Origin, data.NowHours);
        return new EndBelief(new CurvePrior(input, data), new FermentCurve(input.Prior.For(input.Kind), thermal, data.NowHours, data.UsedBefore), told);
    }
}
