using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Forecasting;

/// <summary>What was used up before the curve begins anew, counted from the levels of the drawn ferment itself.</summary>
public sealed class CurveDataTests
{
    private const double SugarHours = 100;
    private const double ThawHours = 261;

    private static readonly DrawnFerment Ferment = new() { Noise = 0, Step = (SugarHours, 5), Events = ValueList.Of(DrawnFerment.Journal(JournalKind.SugarAdded, SugarHours)) };

    [Fact]
    public void SugarAndThenTheCold_CountWhatWasUsedOnce()
    {
        var data = CurveData.From(Slept(Ferment.Input(300)));
        Assert.True(data.Restarted);
        Assert.Equal(ThawHours, (data.Origin - DrawnFerment.Inoculated).TotalHours, 1.1);
        var expected = 92 - Ferment.At(SugarHours - 1) + (Ferment.At(SugarHours) - Ferment.At(ThawHours));
        Assert.InRange(data.UsedBefore, expected - 2, expected + 2);
    }

    [Fact]
    public void NoReadingSinceTheSugar_IsNoError()
    {
        var input = Slept((Ferment with { Told = null }).Input(300));
        var silent = input with { Gravity = ValueList.Of<GravityPoint>(input.Gravity.Where(point => point.At < DrawnFerment.Inoculated + TimeSpan.FromHours(SugarHours))) };
        var data = CurveData.From(silent);
        Assert.Equal(0, data.Count);
        var first = silent.Gravity[0].Gravity.Points;
        Assert.InRange(data.UsedBefore, first - Ferment.At(SugarHours - 1) - 2, first - Ferment.At(SugarHours - 1) + 2);
    }

    /// <summary>The same with two days and a half at 8 °C.</summary>
    private static ForecastInput Slept(ForecastInput input)
    {
        var cold = Temperature.FromCelsius(8);
        return input with
        {
            Temperature = ValueList.Of<TemperaturePoint>(input.Temperature.Select(point =>
                (point.At - DrawnFerment.Inoculated).TotalHours is > 200 and < ThawHours ? new TemperaturePoint(point.At, cold, cold, cold) : point)),
        };
    }
}
