using FermentWatch.Simulation;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Simulation;

/// <summary>Each fault alone on an everyday wine: it must be seen in what the sensor sends, and nothing else.</summary>
public sealed class SensorModelTests
{
    private const double Hours = 240;

    [Fact]
    public void PerfectSensor_SendsTheTruth()
    {
        var ferment = Run(new());
        Assert.Equal((int)(Hours * 4) + 1, ferment.Readings.Count);
        Assert.All(ferment.Readings, reading =>
        {
            var truth = ferment.TruthAt(reading.HoursSinceInoculation);
            Assert.Equal(truth.Gravity.Value, reading.SpecificGravity!.Value, 9);
            Assert.Equal(truth.Temperature.Celsius, reading.Celsius!.Value, 9);
            Assert.Equal(reading.HoursSinceInoculation, reading.ArrivedHours);
            Assert.False(reading.Redelivered);
        });
    }

    [Fact]
    public void Interval_IsKeptAndJitterSpreadsIt()
    {
        var readings = Run(new() { IntervalMinutes = 30, IntervalJitter = 0.2 }).Readings;
        double[] steps = [.. readings.Zip(readings.Skip(1), (a, b) => (b.ArrivedHours - a.ArrivedHours) * 60)];
        Assert.All(steps, step => Assert.InRange(step, 23.999, 36.001));
        Assert.InRange(steps.Average(), 29, 31);
        Assert.InRange(steps.Max() - steps.Min(), 8, 12);
    }

    [Fact]
    public void Noise_HasItsSizeAndItsMemory()
    {
        var white = Gaps(Run(new() { GravityNoise = 0.001 }));
        Assert.InRange(StandardDeviation(white), 0.0009, 0.0011);
        Assert.InRange(Correlation(white), -0.12, 0.12);

        var lasting = Gaps(Run(new() { GravityNoise = 0.001, NoiseMemoryHours = 2 }));
        Assert.InRange(Correlation(lasting), 0.75, 0.98);
    }

    [Fact]
    public void HeavyTail_MakesFarValuesCommoner()
    {
        var plain = Gaps(Run(new() { GravityNoise = 0.001 })).Count(gap => Math.Abs(gap) > 0.004);
        var heavy = Gaps(Run(new() { GravityNoise = 0.001, HeavyTailShare = 0.08 })).Count(gap => Math.Abs(gap) > 0.004);
        Assert.True(heavy > plain + 5, $"{plain} without, {heavy} with heavy tail");
    }

    [Fact]
    public void Steps_RoundWhatIsSent()
    {
        var readings = Run(new() { GravityStep = 0.001, CelsiusStep = 0.5 }).Readings;
        Assert.All(readings, reading =>
        {
            Assert.Equal(reading.SpecificGravity!.Value, Math.Round(reading.SpecificGravity.Value, 3), 9);
            Assert.Equal(reading.Celsius!.Value * 2, Math.Round(reading.Celsius.Value * 2), 9);
        });
    }

    [Fact]
    public void Spikes_AreWildAndRare()
    {
        var gaps = Gaps(Run(new() { SpikeShare = 0.01 }));
        var wild = gaps.Count(gap => Math.Abs(gap) >= 0.0099);
        Assert.InRange(wild, 2, 25);
        Assert.All(gaps.Where(gap => Math.Abs(gap) < 0.0099), gap => Assert.Equal(0, gap, 9));
    }

    [Fact]
    public void Bubbles_LiftMostWhenTheFermentIsFastest()
    {
        var ferment = Run(new() { BubbleLift = 0.2 });
        var busiest = Gap(ferment, 60);
        Assert.InRange(busiest, 0.001, 0.006);
        Assert.InRange(Gap(ferment, 2), 0, 0.0005);
        Assert.True(busiest > Gap(ferment, 230));
    }

    [Fact]
    public void Drift_GrowsWithTheDays() =>
        Assert.Equal(0.0005, Gap(Run(new() { DriftPerDay = 0.0001 }), 120), 9);

    [Fact]
    public void TemperatureSensitivity_FollowsTheTemperature()
    {
        var ferment = Run(new() { GravityPerCelsius = 0.0003 });
        var reading = ferment.Readings[240];
        Assert.NotEqual(20, reading.Celsius!.Value, 1);
        Assert.Equal(0.0003 * (reading.Celsius.Value - 20), Gap(ferment, 60), 9);
    }

    [Fact]
    public void KnockAndFoam_OffsetFromTheirMomentOn()
    {
        var ferment = Run(new() { Offsets = [new(50, double.PositiveInfinity, 0.003), new(60, 70, 0.005)] });
        Assert.Equal(0, Gap(ferment, 49), 9);
        Assert.Equal(0.003, Gap(ferment, 55), 9);
        Assert.Equal(0.008, Gap(ferment, 65), 9);
        Assert.Equal(0.003, Gap(ferment, 200), 9);
    }

    [Fact]
    public void Gap_LeavesNothing()
    {
        var readings = Run(new() { Gaps = [new(30, 42)] }).Readings;
        Assert.DoesNotContain(readings, reading => reading.ArrivedHours is >= 30 and < 42);
        Assert.Contains(readings, reading => reading.ArrivedHours is >= 42 and < 42.3);
    }

    [Fact]
    public void WrongClock_StampsWrongAndArrivesInTime()
    {
        var readings = Run(new() { ClockFaults = [new(30, 40, -438_300)] }).Readings;
        Assert.All(readings, reading => Assert.Equal(
            reading.ArrivedHours is >= 30 and < 40 ? reading.ArrivedHours - 438_300 : reading.ArrivedHours,
            reading.HoursSinceInoculation,
            6));
        Assert.Equal(40, readings.Count(reading => reading.HoursSinceInoculation < 0));
    }

    [Fact]
    public void SwappedNeighbors_ArriveInTheOtherOrder()
    {
        var readings = Run(new() { SwappedShare = 0.05 }).Readings;
        var backwards = readings.Zip(readings.Skip(1)).Count(pair => pair.Second.HoursSinceInoculation < pair.First.HoursSinceInoculation);
        Assert.InRange(backwards, 10, 120);
        Assert.All(readings.Zip(readings.Skip(1)), pair => Assert.True(pair.Second.ArrivedHours >= pair.First.ArrivedHours));
    }

    [Fact]
    public void RedeliveryAndSendingTwice_RepeatTheSameMessage()
    {
        var redelivered = Run(new() { RedeliveredShare = 0.05 }).Readings;
        Assert.InRange(redelivered.Count(reading => reading.Redelivered), 10, 120);
        Assert.All(
            redelivered.Zip(redelivered.Skip(1)).Where(pair => pair.Second.Redelivered),
            pair => Assert.Equal(pair.First with { ArrivedHours = 0 }, pair.Second with { ArrivedHours = 0, Redelivered = false }));

        var twice = Run(new() { SentTwiceShare = 0.05 }).Readings;
        Assert.DoesNotContain(twice, reading => reading.Redelivered);
        Assert.InRange(twice.Count - ((int)(Hours * 4) + 1), 10, 120);
    }

    [Fact]
    public void LackingValues_AreNullAndNeverBoth()
    {
        var readings = Run(new() { LacksGravityShare = 0.1, LacksTemperatureShare = 0.1 }).Readings;
        Assert.InRange(readings.Count(reading => reading.SpecificGravity is null), 50, 150);
        Assert.InRange(readings.Count(reading => reading.Celsius is null), 50, 150);
        Assert.DoesNotContain(readings, reading => reading.SpecificGravity is null && reading.Celsius is null);
    }

    [Theory]
    [InlineData(0.05)]
    [InlineData(1441)]
    [InlineData(double.NaN)]
    public void IntervalThatNoSensorHas_IsRefused(double minutes) => Assert.Throws<ArgumentOutOfRangeException>(
        () => Run(new() { IntervalMinutes = minutes }));

    private static SimulatedFerment Run(SensorTraits sensor) =>
        FermentSimulator.Run(FermentScenarios.Plain(SimulatedKind.Wine) with { Sensor = sensor, SensorHours = Hours }, 11);

    private static List<double> Gaps(SimulatedFerment ferment) =>
    [
        .. ferment.Readings.Select(reading => reading.SpecificGravity!.Value - ferment.TruthAt(reading.ArrivedHours).Gravity.Value),
    ];

    private static double Gap(SimulatedFerment ferment, double hours) =>
        ferment.Readings.First(reading => reading.ArrivedHours >= hours - 1e-9).SpecificGravity!.Value - ferment.TruthAt(hours).Gravity.Value;

    private static double StandardDeviation(List<double> values)
    {
        var mean = values.Average();
        return Math.Sqrt(values.Average(value => (value - mean) * (value - mean)));
    }

    private static double Correlation(List<double> values)
    {
        var mean = values.Average();
        return values.Zip(values.Skip(1), (a, b) => (a - mean) * (b - mean)).Sum() / values.Sum(value => (value - mean) * (value - mean));
    }
}
