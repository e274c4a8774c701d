using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Monitoring.Telemetry.Calibration;
using MathNet.Numerics;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Telemetry.Calibration;

/// <summary>Polynomials against MathNet.Numerics, and cases worked by hand.</summary>
public sealed class InclinationCurveTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void RandomPoints_SameCurveAsAnIndependentLibrary(int order)
    {
        for (var seed = 1; seed <= 200; seed++)
        {
            var random = new Random(seed);
            var x = Enumerable.Range(0, 4 + random.Next(9)).Select(i => 20 + (5 * i) + random.NextDouble()).ToArray();
            var y = x.Select(value => 0.9 + (0.003 * value) + (0.002 * random.NextDouble())).ToArray();
            var ours = PolynomialFit.Of(x, y, order);
            // Their coefficients are of powers of x itself: centered first, else digits are lost on their side.
            var middle = x.Average();
            var theirs = Polynomial.Fit([.. x.Select(value => value - middle)], y, order);
            foreach (var at in x.Append(x[0] - 1).Append(x[^1] + 1))
            {
                Assert.True(Math.Abs(theirs.Evaluate(at - middle) - ours.At(at)) < 1e-9, $"seed {seed}, order {order}, at {at}: {ours.At(at)}, theirs {theirs.Evaluate(at - middle)}");
            }
        }
    }

    /// <summary>Worked by hand: (0, 1), (1, 3), (2, 2), (3, 5) have the line 1.1 + 1.1 x.</summary>
    [Fact]
    public void LineThroughFourPoints_IsThatWorkedByHand()
    {
        var line = PolynomialFit.Of([0, 1, 2, 3], [1, 3, 2, 5], 1);
        Assert.Equal(1.1, line.At(0), 1e-12);
        Assert.Equal(4.4, line.At(3), 1e-12);
    }

    [Fact]
    public void PointsOfACubic_AreMetExactlyAndResidualsVanish()
    {
        // g = 1 + 0.0015 (d - 25) + 0.00001 (d - 25)² + 0.0000002 (d - 25)³, worked by hand at 25, 35, 45, 55, 65.
        CalibrationPoint[] points = [new(25, 1), new(35, 1.0162), new(45, 1.0356), new(55, 1.0594), new(65, 1.0888)];
        var (curve, refused) = InclinationCurve.Fit(points, 3);
        Assert.Null(refused);
        Assert.All(points, point => Assert.Equal(0, curve!.Residual(point), 1e-12));
        Assert.Equal(1 + 0.0225 + 0.00225 + 0.000675, curve!.At(40).Gravity, 1e-12);
    }

    [Theory]
    [InlineData(25, CalibrationReach.Within)]
    [InlineData(65, CalibrationReach.Within)]
    [InlineData(21.5, CalibrationReach.Extrapolated)]
    [InlineData(69, CalibrationReach.Extrapolated)]
    [InlineData(20.9, CalibrationReach.Beyond)]
    [InlineData(90, CalibrationReach.Beyond)]
    public void OutsideThePoints_IsMarkedAndBeyondATenthSetAside(double degrees, CalibrationReach reach)
    {
        var curve = Straight();
        Assert.Equal(reach, curve.At(degrees).Reach);
        // Never further than the edge of the margin.
        Assert.InRange(curve.At(degrees).Gravity, 0.992 - 1e-9, 1.088 + 1e-9);
    }

    [Fact]
    public void CurveThatTurns_IsRefusedAndSaysWhere()
    {
        // A parabola with its top at 45°.
        CalibrationPoint[] points = [new(25, 1.00), new(35, 1.03), new(45, 1.04), new(55, 1.03), new(65, 1.00)];
        var (curve, refused) = InclinationCurve.Fit(points, 2);
        Assert.Null(curve);
        Assert.Equal("calibration-turns", refused!.Code);
        Assert.Equal(45, Assert.IsType<ReasonValue.Measured>(refused.Values[0]).Number, 0.11);
    }

    [Theory]
    [InlineData(3, 2, "calibration-too-few-points")]
    [InlineData(4, 0, "calibration-order")]
    [InlineData(4, 4, "calibration-order")]
    public void TooFewPointsOrNoSuchOrder_IsRefused(int points, int order, string code) =>
        Assert.Equal(code, InclinationCurve.Fit(Enumerable.Range(0, points).Select(i => new CalibrationPoint(25 + (10 * i), 1 + (0.02 * i))), order).Refused!.Code);

    [Fact]
    public void SameInclinationTwice_CountsOnce() =>
        Assert.Equal("calibration-too-few-points", InclinationCurve.Fit([new(25, 1), new(35, 1.02), new(35, 1.021), new(45, 1.04)], 1).Refused!.Code);

    [Fact]
    public void MonotoneOrRefused_HoldsForRandomPoints()
    {
        for (var seed = 1; seed <= 500; seed++)
        {
            var random = new Random(seed);
            var points = Enumerable.Range(0, 4 + random.Next(5)).Select(i => new CalibrationPoint(20 + (8 * i), 1 + (0.02 * i) + (0.02 * random.NextDouble()))).ToList();
            if (InclinationCurve.Fit(points, 1 + random.Next(3)).Curve is not { } curve)
            {
                continue;
            }

            var values = Enumerable.Range(0, 401).Select(i => curve.Curve.At(20 + (i * (points[^1].Degrees - 20) / 400))).ToList();
            var rises = values.Zip(values.Skip(1), (left, right) => Math.Sign(right - left)).Distinct().ToList();
            Assert.True(rises.Count == 1, $"seed {seed}: rises and falls");
        }
    }

    private static InclinationCurve Straight() =>
        InclinationCurve.Fit([new(25, 1.000), new(35, 1.020), new(45, 1.040), new(65, 1.080)], 1).Curve!;
}
