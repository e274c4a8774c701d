using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Monitoring.Telemetry.Calibration;
using Xunit;
using static FermentWatch.Monitoring.Tests.Telemetry.Calibration.CalibrationSamples;

namespace FermentWatch.Monitoring.Tests.Telemetry.Calibration;

/// <summary>A sensor beside hand readings; numbers worked by hand.</summary>
public sealed class HandComparisonTests
{
    /// <summary>Falls 0.5 points an hour from 1.080, with one wild reading.</summary>
    private static readonly List<Reading> Falling =
        [.. Enumerable.Range(0, 121).Select(hour => Reading(hour, hour == 50 ? 1.2 : 1.08 - (0.0005 * hour)))];

    [Fact]
    public void HandReadingDuringTheFall_IsComparedWithTheLineAtItsOwnMoment()
    {
        var pairs = HandComparison.Pairs(Falling, [Hand(1, 48.5, 1.06)], At(200));
        var pair = Assert.Single(pairs);
        Assert.Equal(60, pair.HandPoints, 1e-9);
        Assert.Equal(80 - (0.5 * 48.5), pair.SensorPoints, 1e-6);
    }

    [Fact]
    public void UndoneFarAndLaterHandReadings_DoNotCount() =>
        Assert.Empty(HandComparison.Pairs(Falling, [Hand(1, 48, 1.06, undone: true), Hand(2, 126.5, 1.02), Hand(3, 60, 1.05)], At(59)));

    [Fact]
    public void ThreeHandReadingsWithOneOffset_GiveItAndTheHydrometersError()
    {
        var pairs = HandComparison.Pairs(Falling, [Hand(1, 10, 1.078), Hand(2, 60, 1.053), Hand(3, 110, 1.028)], At(200));
        var (proposed, notYet) = HandComparison.Offset(pairs);
        Assert.Null(notYet);
        Assert.Equal(3, proposed!.OffsetPoints, 1e-6);
        Assert.Equal(2 / Math.Sqrt(3), proposed.ErrorPoints, 1e-6);
        Assert.Equal(1.043, proposed.ApplyToRatio(1.04), 1e-9);
    }

    [Fact]
    public void ThreeHandReadingsWithAScale_GiveIt()
    {
        // hand = 1.1 sensor - 4 points: sensor 75, 50, 25 make 78.5, 51, 23.5.
        var pairs = HandComparison.Pairs(Falling, [Hand(1, 10, 1.0785), Hand(2, 60, 1.051), Hand(3, 110, 1.0235)], At(200));
        var proposed = HandComparison.OffsetAndScale(pairs).Proposed!;
        Assert.Equal(1.1, proposed.Scale, 1e-6);
        Assert.Equal(1, proposed.OffsetPoints, 1e-6);
        Assert.Equal(-4, proposed.Apply(0), 1e-5);
    }

    [Fact]
    public void ScatteredHandReadings_GiveTheErrorOfStudentsDistribution()
    {
        // Differences 0, 4, 8: mean 4, s = 4, t(0.975; 2) = 4.303 (any printed table): 4.303 × 4 / √3 = 9.937.
        ValueList<HandPair> pairs = ValueList.Of<HandPair>(new(At(1), 70, 70), new(At(2), 54, 50), new(At(3), 38, 30));
        Assert.Equal(9.937, HandComparison.Offset(pairs).Proposed!.ErrorPoints, 0.002);
    }

    [Fact]
    public void TooFewOrTooNarrow_SaysWhy()
    {
        Assert.Equal("hand-none", HandComparison.Offset(ValueList.Of<HandPair>()).NotYet!.Code);
        Assert.Equal("hand-scale-few", HandComparison.OffsetAndScale(ValueList.Of<HandPair>(new(At(1), 70, 70), new(At(2), 50, 50))).NotYet!.Code);
        Assert.Equal("hand-scale-narrow", HandComparison.OffsetAndScale(ValueList.Of<HandPair>(new(At(1), 70, 70), new(At(2), 69, 68), new(At(3), 68, 69))).NotYet!.Code);
        Assert.Equal("hand-scale-odd", HandComparison.OffsetAndScale(ValueList.Of<HandPair>(new(At(1), 70, 30), new(At(2), 50, 50), new(At(3), 30, 70))).NotYet!.Code);
    }
}
