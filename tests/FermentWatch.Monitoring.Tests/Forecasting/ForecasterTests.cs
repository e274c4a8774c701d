using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Forecasting;

public class ForecasterTests
{
    private static readonly DrawnFerment Ferment = new();

    [Theory]
    [InlineData(100)]
    [InlineData(170)]
    [InlineData(300)]
    public void OrdinaryFerment_RangeHoldsItsEndAndNarrows(double hours)
    {
        var forecast = At(Ferment.Input(hours));
        var ends = forecast.FinalGravity;
        Assert.Null(forecast.NotYet);
        Assert.InRange(Ferment.End, ends.P05.Points, ends.P95.Points);
        Assert.True(ends.P95.Points - ends.P05.Points < 25, $"{ends.P05.Points} to {ends.P95.Points} points");
    }

    [Fact]
    public void Quantiles_RiseFromFiveToNinetyFivePercent()
    {
        foreach (var hours in new[] { 0, 12, 60, 120, 240, 700 })
        {
            var forecast = At(Ferment.Input(hours));
            AssertOrdered(forecast);
        }
    }

    [Fact]
    public void FinishedFerment_HasItsFinishBehindAndNoFuture()
    {
        var forecast = At(Ferment.Input(900, everyHours: 2));
        Assert.NotNull(forecast.Finish.P50);
        Assert.True(forecast.Finish.P50 < forecast.AsOf);
        Assert.Empty(forecast.Futures);

        // Within one point of its end at 252 h by the formula.
        Assert.InRange((forecast.Finish.P50.Value - DrawnFerment.Inoculated).TotalHours, 190, 340);
    }

    [Fact]
    public void Futures_AreTwentyByFinishFromTheCurveToTheirEnds()
    {
        var input = Ferment.Input(170);
        var forecast = At(input);
        Assert.Equal(20, forecast.Futures.Count);
        var last = forecast.Futures[0].Finish;
        foreach (var future in forecast.Futures)
        {
            Assert.True(future.Finish >= last);
            last = future.Finish;
            var (first, final) = (future.Points[0], future.Points[^1]);
            Assert.InRange((first.At - input.AsOf).TotalMinutes, -1, 1);
            Assert.InRange(first.Gravity.Points - Ferment.At(170), -3, 3);
            Assert.InRange(final.Gravity.Points - future.End.Points, -0.01, 1.2);
            for (var i = 1; i < future.Points.Count; i++)
            {
                Assert.True(future.Points[i].At > future.Points[i - 1].At);
                Assert.True(future.Points[i].Gravity <= future.Points[i - 1].Gravity);
            }
        }

        var middle = forecast.Futures[9].Finish;
        Assert.InRange((middle - forecast.Finish.P50!.Value).TotalHours, -36, 36);
    }

    [Fact]
    public void FittedCurve_FollowsThePastInAboutAHundredPoints()
    {
        var input = Ferment.Input(240);
        var fit = At(input).Fit;
        Assert.InRange(fit.Count, 90, 110);
        foreach (var point in fit)
        {
            var truth = Ferment.At((point.At - DrawnFerment.Inoculated).TotalHours);
            Assert.InRange(point.Gravity.Points - truth, -3, 3);
        }
    }

    [Fact]
    public void WithoutReadings_ThePriorSpeaksAndSaysSo()
    {
        var input = Ferment.Input(48) with { Gravity = ValueList.Of<GravityPoint>() };
        var forecast = At(input);
        Assert.Equal("not-yet-too-few-readings", forecast.NotYet!.Code);
        Assert.Empty(forecast.Fit);
        Assert.InRange(Ferment.End, forecast.FinalGravity.P05.Points, forecast.FinalGravity.P95.Points);
        AssertOrdered(forecast);
    }

    [Fact]
    public void BeforeTheFall_ItIsTooEarly() =>
        Assert.Equal("not-yet-too-early", At(Ferment.Input(16)).NotYet!.Code);

    [Fact]
    public void ShuffledAndEqualInput_GivesTheIdenticalForecast()
    {
        const int Seed = 99;
        var input = Ferment.Input(150);
        var random = new Random(Seed);
        var shuffled = input with
        {
            Gravity = ValueList.Of<GravityPoint>(input.Gravity.OrderBy(_ => random.Next()).ToArray()),
            Temperature = ValueList.Of<TemperaturePoint>(input.Temperature.OrderBy(_ => random.Next()).ToArray()),
        };
        Assert.Equal(At(input), At(shuffled));
    }

    [Fact]
    public void PointsAfterTheMoment_ChangeNothing()
    {
        var later = Ferment.Input(300);
        var now = DrawnFerment.Inoculated + TimeSpan.FromHours(150);
        var cut = later with
        {
            AsOf = now,
            Gravity = ValueList.Of<GravityPoint>(later.Gravity.Where(p => p.At <= now)),
            Temperature = ValueList.Of<TemperaturePoint>(later.Temperature.Where(p => p.At <= now)),
        };
        Assert.Equal(At(cut), At(later with { AsOf = now }));
    }

    [Fact]
    public void WildValues_HardlyMoveTheMiddle()
    {
        var input = Ferment.Input(170);
        var wild = input.Gravity.Select((p, i) => i % 40 == 7 ? p with { Gravity = EndOf(p, 35) } : p);
        var before = At(input).FinalGravity.P50.Points;
        var after = At(input with { Gravity = ValueList.Of<GravityPoint>(wild) }).FinalGravity.P50.Points;
        Assert.InRange(after - before, -3, 3);
    }

    [Fact]
    public void CorrelatedNoise_WidensTheRange()
    {
        var independent = Ferment with { Noise = 1, Correlation = 0 };
        var correlated = Ferment with { Noise = 1, Correlation = 0.95 };
        Assert.True(Width(At(correlated.Input(200))) > Width(At(independent.Input(200))));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void StepFeeding_RestartsTheCurveAtTheAddition(bool told)
    {
        var fed = Ferment with
        {
            Step = (200, 18),
            Tolerance = 18,
            Events = told ? ValueList.Of<TimelineEvent>(DrawnFerment.Journal(JournalKind.SugarAdded, 200)) : ValueList.Of<TimelineEvent>(),
        };
        var forecast = At(fed.Input(225));
        Assert.InRange((forecast.Fit[0].At - DrawnFerment.Inoculated).TotalHours, 199, 202);
        Assert.InRange(forecast.Fit[0].Gravity.Points - fed.At(200), -4, 4);
        AssertOrdered(forecast);
    }

    [Fact]
    public void FreshNutrient_DoesNotNarrowTheRange()
    {
        var fed = Ferment with { Events = ValueList.Of<TimelineEvent>(DrawnFerment.Journal(JournalKind.NutrientAdded, 90)) };
        Assert.True(Width(At(fed.Input(100))) >= Width(At(Ferment.Input(100))));
    }

    [Fact]
    public void YeastAtItsTolerance_EndsSweet()
    {
        // 1.140 with a yeast of 12 % vol: the mass balance ends near 1.050.
        var sweet = new DrawnFerment { Kind = FermentKind.Mead, Start = 140, Told = 140, End = 50, Tolerance = 12 };
        var ends = At(sweet.Input(80)).FinalGravity;
        Assert.InRange(50, ends.P05.Points, ends.P95.Points);
        Assert.True(ends.P05.Points > 25, $"{ends.P05.Points}");
    }

    private static Oenology.Quantities.SpecificGravity EndOf(GravityPoint point, double more) =>
        Oenology.Quantities.SpecificGravity.FromPoints(point.Gravity.Points + more);

    private static GravityForecast At(ForecastInput input) => Forecaster.At(input, TestContext.Current.CancellationToken);

    private static double Width(GravityForecast forecast) => forecast.FinalGravity.P95.Points - forecast.FinalGravity.P05.Points;

    private static void AssertOrdered(GravityForecast forecast)
    {
        var ends = forecast.FinalGravity;
        Assert.True(ends.P05 <= ends.P25 && ends.P25 <= ends.P50 && ends.P50 <= ends.P75 && ends.P75 <= ends.P95);
        var finish = new[] { forecast.Finish.P05, forecast.Finish.P25, forecast.Finish.P50, forecast.Finish.P75, forecast.Finish.P95 };
        for (var i = 1; i < finish.Length; i++)
        {
            Assert.True(finish[i] is null || finish[i] >= finish[i - 1], "a later quantile is in sight, an earlier one is not");
        }
    }
}
