using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Batches.Journaling;

public sealed class HandReadingTests
{
    [Fact]
    public void ThreeReadingsAndTheOriginalGravity_GiveCurveAlcoholForecastAndPhase()
    {
        var view = View(FermentKind.Wine, nowDays: 9.1, (3, 1.060), (6, 1.022), (9, 1.006));
        Assert.Equal(3, view.Gravity.Count);
        Assert.InRange(view.Alcohol!.Value.Value.Percent, 10, 12.5);
        Assert.Null(view.Forecast!.NotYet);
        Assert.True(view.Forecast.FinalGravity.P05 < view.Forecast.FinalGravity.P95);
        Assert.Equal(Phase.Active, View(FermentKind.Wine, nowDays: 6.1, (3, 1.060), (6, 1.022)).Phase.Phase);
        Assert.Equal(Phase.Slowing, View(FermentKind.Wine, nowDays: 12.1, (3, 1.060), (6, 1.022), (9, 1.006), (12, 0.999)).Phase.Phase);
    }

    // Agreement over 7 days, for mead 14: common practice, no source.
    [Theory]
    [InlineData(FermentKind.Wine, 6.9, Phase.Slowing)]
    [InlineData(FermentKind.Wine, 7, Phase.Flat)]
    [InlineData(FermentKind.Mead, 13.9, Phase.Slowing)]
    [InlineData(FermentKind.Mead, 14, Phase.Flat)]
    public void TwoAgreeingReadings_AreFlatAfterTheWaitOfTheirKind(FermentKind kind, double daysApart, Phase expected)
    {
        var view = View(kind, nowDays: 20 + daysApart, (5, 1.040), (10, 1.010), (20, 0.996), (20 + daysApart, 0.997));
        Assert.Equal(expected, view.Phase.Phase);
        if (expected == Phase.Flat)
        {
            Assert.Equal("phase-flat-by-hand-temperature-unknown", view.Phase.Because.Code);
        }
    }

    [Fact]
    public void ReadingsThatStillFall_AreNotFlat() =>
        Assert.NotEqual(Phase.Flat, View(FermentKind.Wine, nowDays: 30, (5, 1.040), (10, 1.010), (20, 1.004), (30, 1.001)).Phase.Phase);

    [Fact]
    public void OneReadingLikeTheMust_IsLag() => Assert.Equal(Phase.Lag, View(FermentKind.Wine, nowDays: 1, (1, 1.090)).Phase.Phase);

    [Fact]
    public void NoReadingForLong_IsUnknown()
    {
        var view = View(FermentKind.Wine, nowDays: 59, (5, 1.040), (10, 1.010), (20, 0.996), (28, 0.996));
        Assert.Equal("phase-unknown-silent", view.Phase.Because.Code);
    }

    [Fact]
    public void SensorThatMovedOn_LeavesTheHandToShowFlat()
    {
        var course = Course.Of(200, 0.5, Course.Smooth);
        foreach (var day in (int[])[14, 22])
        {
            course.Tell(day * 24, JournalKind.MeasuredByHand, -5);
        }

        var view = course.View((22 * 24) + 1, original: 90);
        Assert.True(view.IsGravityByHand);
        Assert.Equal(Phase.Flat, view.Phase.Phase);
    }

    private static BatchView View(FermentKind kind, double nowDays, params (double Days, double Gravity)[] readings)
    {
        var journal = readings.Select((reading, i) => new JournalEntry(
            i + 1, JournalKind.MeasuredByHand, SimulatedBatch.At(reading.Days * 24), "", SpecificGravity.FromRatio(reading.Gravity), null, false)).ToList();
        var batch = SimulatedBatch.Batch(SpecificGravity.FromRatio(1.092)) with { Kind = kind, Sensors = ValueList.Of<SensorAttachment>() };
        return BatchAnalysis.View(new BatchFacts(batch, journal, []), ViewSettings.Default, PriorSnapshot.Shipped, SimulatedBatch.At(nowDays * 24));
    }
}
