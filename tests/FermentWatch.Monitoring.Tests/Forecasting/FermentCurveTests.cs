using System.Numerics;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Forecasting;

/// <summary>The curve by itself: what it solves, what several at once give, and that a fit takes no memory.</summary>
public class FermentCurveTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public void CurvesWithOneParameterMoved_EqualCurvesRunAlone()
    {
        var input = new SimulatedHistory(seed: 3).InputAt(30 * 24);
        var (curve, prior, _) = Of(input);
        var random = new Random(8);
        for (var round = 0; round < 50; round++)
        {
            double[] at = [.. prior.Center.Select((center, j) => Math.Clamp(center + (prior.Spread[j] * ((2 * random.NextDouble()) - 1)), prior.Low[j], prior.High[j]))];
            double[] moves = [.. prior.Spread.Select(spread => 1e-3 * spread)];
            var length = curve.Hours.Length;
            var moved = new Vector<double>[FermentCurve.MovedGroups * length];
            curve.RunMoved(at, moves, length, moved);
            var alone = new double[length];
            for (var j = 0; j <= CurveParameter.Count; j++)
            {
                double[] one = [.. at];
                if (j < CurveParameter.Count)
                {
                    one[j] += moves[j];
                }

                curve.Run(one, alone);
                for (var i = 0; i < length; i++)
                {
                    var together = moved[(j / Vector<double>.Count * length) + i][j % Vector<double>.Count];
                    Assert.True(Math.Abs(alone[i] - together) < (j == CurveParameter.ColdLimit ? 1e-5 : 1e-8), $"round {round}, parameter {j}, grid time {i}: {alone[i]} alone, {together} together");
                    Assert.True(j < CurveParameter.Count || alone[i].Equals(together), $"round {round}, unmoved, grid time {i}: {alone[i]:R} alone, {together:R} together");
                }
            }
        }
    }

    /// <summary>Reference: the differential equation of the curve's remarks at 20 °C, by steps of the fourth order (Runge and Kutta) of 0.01 h.</summary>
    [Fact]
    public void Curve_SolvesItsDifferentialEquation()
    {
        var input = new SimulatedHistory(seed: 3).InputAt(20 * 24) with { Temperature = Monitoring.Telemetry.ValueList.Of<TemperaturePoint>() };
        var (curve, prior, _) = Of(input);
        double[] at = [95, 0, 18, Math.Log(1), Math.Log(24), Math.Log(0.3), Math.Log(12), Math.Log(1e-4), Math.Log(2), 5];
        var gravity = new double[curve.PastCount + 1];
        curve.Run(at, gravity);
        var dry = curve.DryEnd(95);
        var toTolerance = FermentCurve.FallTo(18, 95);
        var gap = dry - (95 - toTolerance);
        var end = (dry + 95 - toTolerance + Math.Sqrt((gap * gap) + (1.5 * 1.5))) / 2;
        var speed = ThermalTime.SpeedAt(20, 5);
        (double Fall, double Wear) Slope(double hours, double g, double wear)
        {
            var active = Math.Exp(-wear) / (1 + Math.Exp(-((speed * hours) - 24) / (0.3 * 24)));
            var burden = Math.Max((95 - g) / toTolerance, 0);
            return (-active * speed * (g - dry) / (12 + g - dry) * (1 - (burden * burden)), 1e-4 * speed * (95 - g) / 40);
        }

        var (now, worn, time) = (95.0, 0.0, 0.0);
        for (var i = 1; i <= curve.PastCount; i++)
        {
            while (time < curve.Hours[i] - 1e-9)
            {
                var step = Math.Min(0.01, curve.Hours[i] - time);
                var a = Slope(time, now, worn);
                var b = Slope(time + (step / 2), now + (step / 2 * a.Fall), worn + (step / 2 * a.Wear));
                var c = Slope(time + (step / 2), now + (step / 2 * b.Fall), worn + (step / 2 * b.Wear));
                var d = Slope(time + step, now + (step * c.Fall), worn + (step * c.Wear));
                now += step / 6 * (a.Fall + (2 * b.Fall) + (2 * c.Fall) + d.Fall);
                worn += step / 6 * (a.Wear + (2 * b.Wear) + (2 * c.Wear) + d.Wear);
                time += step;
            }

            Assert.True(Math.Abs(now - gravity[i]) < 0.15, $"after {curve.Hours[i]} h: {now} by the equation, {gravity[i]} by the curve; it ends at {end}");
        }

        Assert.True(now < 60, $"the equation fell to {now} only: too little to compare");
        Assert.NotEmpty(prior.Center);
    }

    [Fact]
    public void InnerFit_TakesNoMemory()
    {
        var (curve, prior, data) = Of(new SimulatedHistory(seed: 3).InputAt(20 * 24));
        var problem = new FermentProblem(curve, data, prior.Center, prior.Spread);
        var solver = new LevenbergMarquardt(problem.ParameterCount, problem.RowCount);
        double[] start = [.. prior.Center];
        var settings = new FitSettings { RobustRows = data.Count };
        solver.Minimize(problem, start, prior.Low, prior.High, settings, Cancel);
        prior.Center.CopyTo(start, 0);
        var before = GC.GetAllocatedBytesForCurrentThread();
        var outcome = solver.Minimize(problem, start, prior.Low, prior.High, settings, Cancel);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.True(outcome.Iterations > 3, $"{outcome.Iterations} iterations are no fit");
    }

    private static (FermentCurve Curve, CurvePrior Prior, CurveData Data) Of(ForecastInput input)
    {
        var data = CurveData.From(input);
        var thermal = new ThermalTime(input.Temperature, data.Origin, data.NowHours);
        return (new FermentCurve(input.Prior.For(input.Kind), thermal, data.NowHours, data.UsedBefore), new CurvePrior(input, data), data);
    }
}
