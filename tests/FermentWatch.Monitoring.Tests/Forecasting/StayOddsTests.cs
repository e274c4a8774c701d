using FermentWatch.Monitoring.Forecasting;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Forecasting;

public class StayOddsTests
{
    private static readonly DrawnFerment Ferment = new() { Noise = 0.4, Correlation = 0.7 };

    [Fact]
    public void LivelyFermentInTheWarm_DoesNotStay() => Assert.Equal(0, Of(Ferment, 110).Weight);

    [Fact]
    public void LagInTheWarm_IsNoRest() => Assert.Equal(0, Of(Ferment with { LagHours = 400 }, 150).Weight);

    [Fact]
    public void FourFlatDays_StayWhereTheyAre()
    {
        var stay = Of(Ferment with { StopHours = 100 }, 100 + 120);
        // Readings that are off, and falls too slow for days to show, leave the curve more than half of the odds.
        Assert.InRange(stay.Weight, 0.35, 0.5);
        Assert.InRange(stay.Level, Ferment.At(100) - 2.5, Ferment.At(100) + 0.5);
        Assert.True(stay.FinishHours < 220, $"{stay}");
    }

    [Fact]
    public void Weight_RisesAsTheMustGetsColder()
    {
        var last = 0.0;
        foreach (var celsius in new[] { 20, 16, 13, 12, 11, 10, 8, 5 })
        {
            var weight = Of(Ferment with { Celsius = celsius }, 110).Weight;
            Assert.InRange(weight, last, 1);
            last = weight;
        }

        Assert.InRange(last, 0.7, 0.95);
    }

    [Fact]
    public void FewReadings_SayNothing() => Assert.Equal(StayOdds.None, Of(Ferment with { Celsius = 5 }, 3));

    private static StayOdds Of(DrawnFerment ferment, double hours)
    {
        var input = ferment.Input(hours, everyHours: 1);
        var data = CurveData.From(input);
        return StayOdds.Of(data, RestEvidence.Of(data), new ThermalTime(input.Temperature, data.Origin, data.NowHours));
    }
}
