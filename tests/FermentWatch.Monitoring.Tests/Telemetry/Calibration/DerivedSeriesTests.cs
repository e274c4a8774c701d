using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Monitoring.Telemetry.Calibration;
using Xunit;
using static FermentWatch.Monitoring.Tests.Telemetry.Calibration.CalibrationSamples;

namespace FermentWatch.Monitoring.Tests.Telemetry.Calibration;

/// <summary>What readings become once calibrations are applied.</summary>
public sealed class DerivedSeriesTests
{
    private static readonly InclinationCurve Line = InclinationCurve.Fit([new(25, 1), new(35, 1.02), new(45, 1.04), new(65, 1.08)], 1).Curve!;

    [Fact]
    public void Inclination_BecomesGravityAndKeepsTheNumberAsSent()
    {
        var gravity = GravityOf([Curve(1, SensorCalibration.Always)], 30, 40);
        Assert.Equal([1.01, 1.03], gravity.Select(reading => Math.Round(reading.Value, 9)));
        Assert.Equal([30, 40], gravity.Select(reading => reading.Raw));
    }

    [Fact]
    public void AnotherCalibration_ReachesBackToItsDateAndTakenBackGivesWay()
    {
        var steeper = InclinationCurve.Fit([new(25, 1), new(35, 1.03), new(45, 1.06), new(65, 1.12)], 1).Curve!;
        var later = Curve(2, At(1)) with { Curve = steeper };
        Assert.Equal([1.01, 1.045], GravityOf([Curve(1, SensorCalibration.Always), later], 30, 40).Select(reading => Math.Round(reading.Value, 9)));
        Assert.Equal([1.01, 1.03], GravityOf([Curve(1, SensorCalibration.Always), later with { RetiredAt = new ReceivedAt(1) }], 30, 40).Select(reading => Math.Round(reading.Value, 9)));
        Assert.Empty(GravityOf([later with { From = At(5) }], 30, 40));
    }

    [Fact]
    public void HandAdjustment_AppliesOnTopOfInclination()
    {
        var adjustment = new GravityAdjustment(2, 1, 0, 2, ValueList.Of<HandPair>());
        var hand = Curve(2, SensorCalibration.Always) with { Curve = null, Adjustment = adjustment };
        Assert.Equal([1.012, 1.032], GravityOf([Curve(1, SensorCalibration.Always), hand], 30, 40).Select(reading => Math.Round(reading.Value, 9)));
    }

    [Fact]
    public void ReadingFarOutsideThePoints_IsSetAsideWithItsReason()
    {
        var series = new SeriesReadings(new SeriesKey(Sensor, QuantityKind.Inclination), [.. Enumerable.Range(0, 40).Select(hour => Reading(hour, hour == 20 ? 88 : 60 - (0.2 * hour)))]);
        var facts = DerivedSeries.Apply(new BatchFacts(Batch(), [], [series]), [Curve(1, SensorCalibration.Always)]);
        var view = BatchAnalysis.View(facts, ViewSettings.Default, PriorSnapshot.Shipped, At(40));
        Assert.Equal(ReasonCodes.SetAsideBeyondCalibration, Assert.Single(view.SetAside).Because.Code);
        Assert.Equal(40, view.GravityCounts.Stored);
        Assert.NotNull(view.LatestGravity);
    }

    private static List<Reading> GravityOf(SensorCalibration[] calibrations, params double[] degrees)
    {
        var series = new SeriesReadings(new SeriesKey(Sensor, QuantityKind.Inclination), [.. degrees.Select((value, i) => Reading(i, value))]);
        var facts = DerivedSeries.Apply(new BatchFacts(Batch(), [], [series]), calibrations);
        return [.. facts.Series.Where(one => one.Series.Quantity == QuantityKind.Gravity).SelectMany(one => one.Readings)];
    }

    private static SensorCalibration Curve(long id, EventTime from) => new(id, Sensor, from, Line, null, new ReceivedAt(0), null);
}
