using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Simulation;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Batches;

public sealed class TemperatureEffectTests(ITestOutputHelper output)
{
    private const double Day = 2 * Math.PI / 24;

    [Theory]
    [InlineData(0.3)]
    [InlineData(-0.2)]
    public void AFollowingSensor_IsFoundAndBroughtToTwentyDegrees(double pointsPerCelsius)
    {
        var view = View(hours => Course.Smooth(hours) + (pointsPerCelsius * (Celsius(hours) - 20)), 300);
        var found = Assert.Single(view.Events, one => one.What.Code == ReasonCodes.EventTemperatureEffect);
        Assert.Equal(pointsPerCelsius, found.What.Values.OfType<ReasonValue.Gravity>().Single().Ratio * 1000, 0.04);
        var off = view.Gravity.Average(point => Math.Abs(point.Gravity.Points - Course.Smooth((point.At - SimulatedBatch.Start).TotalHours)));
        Assert.InRange(off, 0, 0.25);
    }

    [Fact]
    public void AFermentThatRunsFasterInWarmHours_IsNotTakenForIt()
    {
        // The rate follows the temperature by a fifth up and down: gravity lags a quarter of a day behind it.
        var gravity = new double[4801];
        gravity[0] = 90;
        for (var i = 1; i < gravity.Length; i++)
        {
            var hours = i * 0.0625;
            gravity[i] = gravity[i - 1] - (0.0625 * 0.4 * (1 + (0.2 * Math.Sin(Day * hours))) * Math.Clamp(gravity[i - 1] / 60, 0, 1));
        }

        var view = View(hours => gravity[(int)(hours / 0.0625)], 299);
        Assert.DoesNotContain(view.Events, one => one.What.Code == ReasonCodes.EventTemperatureEffect);
    }

    [Fact]
    public void DrawnSensors_FollowLessAfterItThanBefore()
    {
        const int FirstSeed = 3300;
        var (count, found, before, after) = (0, 0, 0.0, 0.0);
        for (var seed = FirstSeed; seed < FirstSeed + 60; seed++)
        {
            var ferment = FermentSimulator.Run(FermentScenarios.Draw(seed), seed);
            var view = BatchAnalysis.View(SimulatedBatch.Facts(ferment), ViewSettings.Default, PriorSnapshot.Shipped, SimulatedBatch.At(24 * 25));
            var truth = ferment.Scenario.Sensor.GravityPerCelsius * 1000;
            count++;
            foreach (var one in view.Events.Where(one => one.What.Code == ReasonCodes.EventTemperatureEffect))
            {
                var told = one.What.Values.OfType<ReasonValue.Gravity>().Single().Ratio * 1000;
                (found, before, after) = (found + 1, before + (truth * truth), after + ((told - truth) * (told - truth)));
            }
        }

        output.WriteLine($"seeds {FirstSeed} on: found in {found} of {count}; off by {Math.Sqrt(before / found):F3} before and {Math.Sqrt(after / found):F3} points a degree after");
        Assert.True(found >= 8, $"found in {found} of {count}");
        Assert.True(after < 0.3 * before, $"{before:F3} before, {after:F3} after");
    }

    private static double Celsius(double hours) => 19 + (2 * Math.Sin(Day * hours)) + (0.3 * Math.Sin(Day * hours * 0.61));

    private static BatchView View(Func<double, double> points, double hours)
    {
        var course = Course.Of(hours, 0.5, points);
        var facts = course.Facts(90);
        var temperature = course.Readings.Select(reading => reading with
        {
            Value = Celsius((reading.At - SimulatedBatch.Start).TotalHours),
            Raw = Celsius((reading.At - SimulatedBatch.Start).TotalHours),
        }).ToList();
        return BatchAnalysis.View(
            facts with { Series = [.. facts.Series, new SeriesReadings(new SeriesKey(SimulatedBatch.Sensor, QuantityKind.Temperature), temperature)] },
            ViewSettings.Default,
            PriorSnapshot.Shipped,
            SimulatedBatch.At(hours));
    }
}
