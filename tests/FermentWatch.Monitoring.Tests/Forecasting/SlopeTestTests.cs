using FermentWatch.Monitoring.Forecasting;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Forecasting;

/// <summary>The equivalence test against scipy's numbers (Schuirmann 1987: the 90 % interval inside the limits).</summary>
public class SlopeTestTests
{
    [Fact]
    public void IndependentNoise_GivesTheTextbookInterval()
    {
        var line = FlatGravity() with { LagOne = 0 };
        Assert.Equal(ReferenceFiles.Check("tost_slope_tight", "slope"), line.Slope, 1e-12);
        Assert.Equal(ReferenceFiles.Check("tost_slope_tight", "se"), line.StandardError, 1e-12);
        Assert.Equal(ReferenceFiles.Check("tost_slope_tight", "ci90_lo"), line.Slope - line.HalfWidth(0.9), 1e-9);
        Assert.Equal(ReferenceFiles.Check("tost_slope_tight", "ci90_hi"), line.Slope + line.HalfWidth(0.9), 1e-9);
    }

    [Fact]
    public void Decision_FollowsTheIntervalInsideTheLimit()
    {
        var line = FlatGravity() with { LagOne = 0 };

        // p = 0.0235 at 0.005 and 3e-12 at 0.02: both show equivalence; the interval reaches -0.00442.
        Assert.True(line.IsWithin(0.02));
        Assert.True(line.IsWithin(0.005));
        Assert.False(line.IsWithin(0.004));
    }

    [Fact]
    public void CorrelatedNoise_TakesTheProofAway()
    {
        var line = FlatGravity();
        Assert.True((line with { LagOne = 0 }).IsWithin(0.005));
        Assert.False((line with { LagOne = 0.9 }).IsWithin(0.005));
    }

    [Fact]
    public void TooFewOrSimultaneousPoints_HaveNoSlope()
    {
        Assert.Null(SlopeTest.Through([0, 1], [1, 2]));
        Assert.Null(SlopeTest.Through([1, 1, 1], [1, 2, 3]));
    }

    private static SlopeTest FlatGravity()
    {
        var (hours, points) = ReferenceFiles.Columns("flat_gravity.csv");
        return SlopeTest.Through(hours, points)!.Value;
    }
}
