namespace FermentWatch.Simulation;

/// <summary>Draws a sensor with its faults; the ranges are told at <see cref="SensorTraits"/>.</summary>
internal sealed class SensorDraw(SeededNoise noise)
{
    public SensorTraits Sensor() => new()
    {
        IntervalMinutes = noise.OneOf(1.0, 5, 10, 15, 15, 30, 60),
        IntervalJitter = noise.Between(0, 0.3),
        GravityNoise = noise.ByRatio(0.0001, 0.0015),
        NoiseMemoryHours = noise.Between(0, 4),
        HeavyTailShare = noise.Between(0, 0.08),
        CelsiusNoise = noise.ByRatio(0.02, 0.3),
        GravityStep = noise.OneOf(0.0001, 0.0002, 0.0005, 0.001),
        CelsiusStep = noise.OneOf(0.1, 0.1, 0.25, 0.5),
        SpikeShare = noise.Happens(0.5) ? noise.Between(0, 0.01) : 0,
        BubbleLift = noise.Between(0, 0.25),
        DriftPerDay = noise.Happens(0.4) ? noise.Between(-0.0001, 0.0001) : 0,
        GravityPerCelsius = noise.Happens(0.6) ? noise.Between(-0.0003, 0.0003) : 0,
        LacksTemperatureShare = noise.Happens(0.3) ? noise.Between(0, 0.02) : 0,
        LacksGravityShare = noise.Happens(0.3) ? noise.Between(0, 0.02) : 0,
        RedeliveredShare = noise.Happens(0.4) ? noise.Between(0, 0.02) : 0,
        SentTwiceShare = noise.Happens(0.2) ? noise.Between(0, 0.01) : 0,
        SwappedShare = noise.Happens(0.4) ? noise.Between(0, 0.02) : 0,
        Offsets = Offsets(),
        Gaps = Gaps(),
        ClockFaults = ClockFaults(),
    };

    private List<GravityOffset> Offsets()
    {
        var offsets = new List<GravityOffset>();
        if (noise.Happens(0.35))
        {
            var from = noise.Between(12, 120);
            offsets.Add(new(from, from + noise.Between(2, 24), noise.Between(0.002, 0.010)));
        }

        if (noise.Happens(0.15))
        {
            var size = noise.Between(0.0015, 0.005);
            offsets.Add(new(noise.Between(48, 500), double.PositiveInfinity, noise.Happens(0.5) ? size : -size));
        }

        return offsets;
    }

    private List<SilentTime> Gaps()
    {
        var gaps = new List<SilentTime>();
        for (var more = noise.Happens(0.35); more; more = noise.Happens(0.35))
        {
            var from = noise.Between(12, 600);
            gaps.Add(new(from, from + noise.ByRatio(1, 60)));
        }

        return gaps;
    }

    private List<ClockFault> ClockFaults()
    {
        if (!noise.Happens(0.1))
        {
            return [];
        }

        // Half of them are some hours off, half begin again decades ago, as a device without a clock of its own does.
        const double FiftyYears = 50 * 365.25 * 24;
        var from = noise.Between(24, 300);
        return [new(from, from + noise.Between(3, 40), noise.Happens(0.5) ? noise.Between(-9, 9) : -FiftyYears)];
    }
}
