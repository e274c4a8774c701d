using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Forecasting;

public class RestEvidenceTests
{
    private static readonly DrawnFerment Ferment = new() { Noise = 0.4, Correlation = 0.7 };

    [Fact]
    public void StraightLineWithoutNoise_GivesItsSlopeExactly()
    {
        var rest = RestEvidence.Of(Falling(perDay: 1.5, noise: 0, seed: 1));
        Assert.Equal(1.5, rest.FallPerDay, 6);
        Assert.Equal(1.5, rest.MostPerDay, 6);
        Assert.InRange(rest.Days, 2, 6);
    }

    [Fact]
    public void FlatDaysWithCorrelatedNoise_AreRest()
    {
        // Now and then the noise of the last day looks like a fall: then it waits.
        var shown = Enumerable.Range(1, 30).Count(seed => RestEvidence.Of(Falling(perDay: 0, noise: 0.4, seed)) is { MostPerDay: < 0.8, LongMostPerDay: < 0.8 });
        Assert.True(shown >= 25, $"{shown} of 30 shown to rest, seeds 1 to 30");
    }

    [Fact]
    public void MostPerDay_IsSeldomLessThanTheTrueFall()
    {
        // Each window errs in 5 of 100; the tightest of five, with a correlation that is only estimated, in up to 30.
        var rests = Enumerable.Range(1, 200).Select(seed => RestEvidence.Of(Falling(perDay: 1, noise: 0.6, seed))).ToList();
        var (any, far) = (rests.Count(rest => rest.MostPerDay < 1), rests.Count(rest => rest.LongMostPerDay < 0.8));
        Assert.True(any <= 60 && far <= 4, $"{any} of 200 below the true fall, {far} by more than a fifth, seeds 1 to 200");
    }

    [Fact]
    public void LastHalfDay_ShowsAnArrestBeforeTheLongWindowsDo()
    {
        var arrested = (Ferment with { StopHours = 110, Noise = 0.2 }).Input(110 + 20, everyHours: 0.5);
        var rest = RestEvidence.Of(CurveData.From(arrested));
        Assert.InRange(rest.RecentPerDay, -1, 1);
        Assert.True(rest.RecentMostPerDay < 2 && rest.MostPerDay > 3, $"{rest}");
    }

    [Fact]
    public void FallOfTheLastDay_EndsTheRestOfTheDaysBefore()
    {
        var input = Ferment.Input(400, everyHours: 1);
        var woken = input.Gravity.Select((point, i) =>
        {
            var hours = (point.At - DrawnFerment.Inoculated).TotalHours;
            return point with { Gravity = SpecificGravity.FromPoints(10 - (0.2 * Math.Max(0, hours - 376)) + (0.05 * (i % 2))) };
        });
        var rest = RestEvidence.Of(CurveData.From(input with { Gravity = ValueList.Of<GravityPoint>(woken) }));
        Assert.True(double.IsPositiveInfinity(rest.MostPerDay), $"{rest}");
    }

    [Fact]
    public void TooFewReadings_TellNothing()
    {
        var rest = RestEvidence.Of(CurveData.From(Ferment.Input(30, everyHours: 6)));
        Assert.True(double.IsPositiveInfinity(rest.MostPerDay));
        Assert.Equal(0, rest.Days);
        Assert.Equal(0, RestEvidence.Of(CurveData.From(Ferment.Input(0))).Level);
    }

    private static CurveData Falling(double perDay, double noise, int seed)
    {
        var input = (Ferment with { Seed = seed, Start = 0, End = 0, Noise = noise }).Input(240, everyHours: 1);
        var line = input.Gravity.Select(point =>
            point with { Gravity = SpecificGravity.FromPoints(point.Gravity.Points + 30 - (perDay * (point.At - DrawnFerment.Inoculated).TotalHours / 24)) });
        return CurveData.From(input with { Gravity = ValueList.Of<GravityPoint>(line) });
    }
}
