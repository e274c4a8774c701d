using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Forecasting;

/// <summary>A forced fermentation test in a forecast.</summary>
public class ForcedEndTests
{
    // Ends 9 points above the usual dry end: something in it does not ferment.
    private static readonly DrawnFerment Sweet = new() { End = 2 };

    [Fact]
    public void Test_MovesTheMedianAndNarrowsTheRange()
    {
        var input = Sweet.Input(92);
        var without = At(input);
        var with = At(input with { Forced = Test(2, 80) });
        Assert.Equal("basis-forced-test", Assert.Single(with.Basis).Code);
        Assert.True(Math.Abs(Median(with) - 2) < 0.5 * Math.Abs(Median(without) - 2), $"median {Median(with):F1} with the test, {Median(without):F1} without; it says 2");
        Assert.True(Width(with) < Width(without), $"range of {Width(with):F1} points with the test, {Width(without):F1} without");
    }

    [Fact]
    public void TestAboveWhereTheBatchIs_IsLeftOutWithItsReason()
    {
        var input = new DrawnFerment { End = -6 }.Input(500);
        var with = At(input with { Forced = Test(8, 80) });
        var because = Assert.Single(with.Basis);
        Assert.Equal("basis-forced-test-below", because.Code);
        Assert.Equal(At(input) with { Basis = with.Basis }, with);
    }

    [Fact]
    public void SugarAfterTheTest_LeavesItOut()
    {
        var input = Sweet.Input(92) with { Events = ValueList.Of(DrawnFerment.Journal(JournalKind.SugarAdded, 85)) };
        var with = At(input with { Forced = Test(2, 80) });
        Assert.Equal("basis-forced-test-sugar-since", Assert.Single(with.Basis).Code);
        Assert.Equal(At(input) with { Basis = with.Basis }, with);
    }

    [Fact]
    public void TestFarBelowAnyDryEnd_IsLeftOut()
    {
        var input = Sweet.Input(92);
        var with = At(input with { Forced = Test(-40, 80) });
        Assert.Equal("basis-forced-test-unlikely", Assert.Single(with.Basis).Code);
        Assert.Equal(At(input) with { Basis = with.Basis }, with);
    }

    [Fact]
    public void TestOfTheFuture_IsNotKnownYet() => Assert.Empty(At(Sweet.Input(92) with { Forced = Test(2, 100) }).Basis);

    /// <summary>From the journal to the forecast; and a batch that rests above its test is stuck, where it would else pass for its end.</summary>
    [Fact]
    public void EntryOfTheJournal_ReachesTheForecastAndTheJudgment()
    {
        var ferment = new DrawnFerment { End = 2 };
        var resting = ferment.Input(600);
        var test = resting with { Forced = Test(-7, 80) };
        double Stuck(ForecastInput input) => StopJudge.Assess(input, PhaseJudge.Assess(input), At(input)).Stuck;
        Assert.True(Stuck(test) > Stuck(resting), $"stuck {Stuck(test):F2} with a test that went on to -7, {Stuck(resting):F2} without");
        Assert.True(Stuck(resting with { Forced = Test(2, 80) }) < Stuck(resting), "a test that ended there too says that it is the end");

        var facts = Batches.Course.Of(100, 0.5, Batches.Course.Smooth).Facts(90);
        var entry = new JournalEntry(1, JournalKind.ForcedTest, Batches.SimulatedBatch.At(60), "", SpecificGravity.FromRatio(0.996), null, false);
        var view = BatchAnalysis.View(facts with { Journal = [entry] }, ViewSettings.Default, PriorSnapshot.Shipped, Batches.SimulatedBatch.At(80));
        Assert.Equal(Reason.Of("basis-forced-test", new ReasonValue.Gravity(0.996)), Assert.Single(view.Forecast!.Basis));
    }

    private static GravityForecast At(ForecastInput input) => Forecaster.At(input, TestContext.Current.CancellationToken);

    private static ForcedTest Test(double points, double hours) => new(SpecificGravity.FromPoints(points), DrawnFerment.Inoculated + TimeSpan.FromHours(hours));

    private static double Median(GravityForecast forecast) => forecast.FinalGravity.P50.Points;

    private static double Width(GravityForecast forecast) => forecast.FinalGravity.P95.Points - forecast.FinalGravity.P05.Points;
}
