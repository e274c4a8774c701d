using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Monitoring.Telemetry.Calibration;
using FermentWatch.Monitoring.Tests.Forecasting;
using Xunit;
using static FermentWatch.Monitoring.Tests.Telemetry.Calibration.CalibrationSamples;

namespace FermentWatch.Monitoring.Tests.Telemetry.Calibration;

/// <summary>Battery: slope, days left, and when neither can be told.</summary>
public sealed class BatteryTrendTests
{
    [Fact]
    public void TwoPercentADayFromEighty_LastsFortyDaysInSpiteOfWildReadings()
    {
        var trend = BatteryTrend.Of(Hourly(240, hour => hour % 40 == 7 ? 5 : 100 - (2.0 * hour / 24)), MeasurementUnit.Percent, At(240));
        Assert.Equal(-2, trend.PerDay!.Value, 0.05);
        Assert.Equal(40, trend.DaysLeft!.Value, 1.0);
    }

    [Fact]
    public void Volts_HaveASlopeAndNoEnd()
    {
        var trend = BatteryTrend.Of(Hourly(240, hour => 4.1 - (0.001 * hour)), MeasurementUnit.Volts, At(240));
        Assert.Equal(-0.024, trend.PerDay!.Value, 1e-6);
        Assert.Equal("battery-volts", trend.NotYet!.Code);
        // 3.86 V now and 0.024 V a day: 19 days to 3.4 V, if somebody says that it stops there.
        Assert.Null(trend.DaysLeftTo(0));
        Assert.InRange(trend.DaysLeftTo(3.4)!.Value, 18.5, 20);
        Assert.Equal(0, trend.DaysLeftTo(4));
        Assert.Null(trend.DaysLeft);
    }

    [Theory]
    [InlineData(60, "battery-short")]
    [InlineData(240, "battery-steady")]
    public void ShortOrSteady_SaysSo(int hours, string code) =>
        Assert.Equal(code, BatteryTrend.Of(Hourly(hours, hour => 80 + (hour % 2)), MeasurementUnit.Percent, At(hours)).NotYet!.Code);

    /// <summary>Sen's own example is not at hand; this one is worked by hand: slopes between (0,0), (1,2), (2,1), (3,10) are 2, 0.5, 10/3, −1, 4, 9.</summary>
    [Fact]
    public void MedianOfSlopes_IsThatWorkedByHand() => Assert.Equal((2 + (10.0 / 3)) / 2, TheilSen.Slope([0, 1, 2, 3], [0, 2, 1, 10]), 1e-12);

    /// <summary>Reference values by scipy (Theil 1950, Sen 1968). With seven points the tools round the ranks of the interval differently.</summary>
    [Fact]
    public void MedianOfSlopes_EqualsThatOfAnotherTool()
    {
        var (x, y) = ReferenceFiles.Columns("sen_small.csv");
        Assert.Equal(ReferenceFiles.Check("theilsen_small", "slope"), TheilSen.Slope(x, y), 1e-9);
        var (years, flow) = ReferenceFiles.Columns("nile.csv");
        var (slope, low, high) = TheilSen.Interval(years, flow);
        Assert.Equal(ReferenceFiles.Check("theilsen_nile", "slope"), slope, 1e-9);
        Assert.Equal(ReferenceFiles.Check("theilsen_nile", "lo"), low, 0.05);
        Assert.Equal(ReferenceFiles.Check("theilsen_nile", "hi"), high, 0.05);
    }

    private static List<(EventTime, double)> Hourly(int hours, Func<int, double> value) =>
        [.. Enumerable.Range(0, hours).Select(hour => (At(hour), value(hour)))];
}
