using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Forecasting;

public class ThawTests
{
    private static readonly DrawnFerment Ferment = new();

    [Fact]
    public void NightInTheCold_IsNoSleep() => Assert.Null(Of(hours => hours is > 100 and < 115 ? 9 : 20));

    [Fact]
    public void StillCold_IsNoThaw() => Assert.Null(Of(hours => hours > 100 ? 7 : 20));

    [Fact]
    public void ColdCellarAllAlong_IsNoThaw() => Assert.Null(Of(hours => 11 + Math.Sin(hours / 4)));

    [Fact]
    public void Warmed_CountsFromTheHourAtWhichItBecameWarm() => Assert.Equal(200, Of(hours => hours is > 100 and < 200 ? 6 : 20)!.Value, 1.0);

    [Fact]
    public void WarmedTwice_CountsFromTheLast() =>
        Assert.Equal(260, Of(hours => hours is (> 60 and < 120) or (> 180 and < 260) ? 6 : 20)!.Value, 1.0);

    [Fact]
    public void NotYetHappened_DoesNotCount()
    {
        var input = With(hours => hours is > 100 and < 200 ? 6 : 20);
        Assert.Null(Thaw.LastAt(input.Temperature, input.InoculatedAt, input.InoculatedAt + TimeSpan.FromHours(190)));
    }

    [Fact]
    public void FermentThatGoesOnAfterSleep_IsForeseenToComeHome()
    {
        // Asleep at 41 points for six days, then it goes on: the long rest must not pass for a yeast that gave up.
        var input = With(hours => hours is > 92 and < 240 ? 6 : 20);
        var gravity = input.Gravity.Select(point =>
        {
            var hours = (point.At - DrawnFerment.Inoculated).TotalHours;
            var awake = hours < 92 ? hours : Math.Max(92, hours - 150);
            return point with { Gravity = SpecificGravity.FromPoints(point.Gravity.Points - Ferment.At(hours) + Ferment.At(awake)) };
        });
        var forecast = Forecaster.At(input with { Gravity = ValueList.Of<GravityPoint>(gravity) }, TestContext.Current.CancellationToken);
        Assert.InRange(Ferment.End, forecast.FinalGravity.P05.Points, forecast.FinalGravity.P95.Points);
        Assert.InRange(forecast.FinalGravity.P50.Points, Ferment.End - 6, Ferment.End + 6);
    }

    private static double? Of(Func<double, double> celsius)
    {
        var input = With(celsius);
        return Thaw.LastAt(input.Temperature, input.InoculatedAt, input.AsOf);
    }

    private static ForecastInput With(Func<double, double> celsius)
    {
        var input = Ferment.Input(300, everyHours: 0.5);
        return input with
        {
            Temperature = ValueList.Of<TemperaturePoint>(input.Temperature.Select(point =>
            {
                var liquid = Temperature.FromCelsius(celsius((point.At - DrawnFerment.Inoculated).TotalHours));
                return new TemperaturePoint(point.At, liquid, liquid, liquid);
            })),
        };
    }
}
