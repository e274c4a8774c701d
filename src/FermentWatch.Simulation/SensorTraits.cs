namespace FermentWatch.Simulation;

/// <summary>A time in which a sensor reads wrong by a constant: foam, a knock, racking.</summary>
/// <param name="FromHours">Start, in hours since inoculation.</param>
/// <param name="ToHours">End; infinite for an offset that stays.</param>
/// <param name="Gravity">What is added to the gravity.</param>
public sealed record GravityOffset(double FromHours, double ToHours, double Gravity);

/// <summary>A time in which nothing arrives.</summary>
/// <param name="FromHours">Start, in hours since inoculation.</param>
/// <param name="ToHours">End; infinite for a sensor that never comes back.</param>
public sealed record SilentTime(double FromHours, double ToHours);

/// <summary>A time in which the device's clock is wrong.</summary>
/// <param name="FromHours">Start, in hours since inoculation.</param>
/// <param name="ToHours">End.</param>
/// <param name="OffHours">What is added to the stamp.</param>
public sealed record ClockFault(double FromHours, double ToHours, double OffHours);

/// <summary>A sensor and its faults. The values that stand here unless told are those of a perfect one.</summary>
public sealed record SensorTraits
{
    /// <summary>Time between readings. [min] Drawn from 1 to 60.</summary>
    public double IntervalMinutes { get; init; } = 15;

    /// <summary>How much the interval varies: 0.1 is ±10 %. Drawn from 0 to 0.3.</summary>
    public double IntervalJitter { get; init; }

    /// <summary>Standard deviation of the gravity's noise. Drawn from 0.0001 to 0.0015.</summary>
    public double GravityNoise { get; init; }

    /// <summary>Hours over which the noise keeps its value (AR(1)); 0 is white noise. Drawn from 0 to 4.</summary>
    public double NoiseMemoryHours { get; init; }

    /// <summary>Share of readings whose noise is three times larger. Drawn from 0 to 0.08.</summary>
    public double HeavyTailShare { get; init; }

    /// <summary>Standard deviation of the temperature's noise. [°C] Drawn from 0.02 to 0.3.</summary>
    public double CelsiusNoise { get; init; }

    /// <summary>Step of the gravity's display; 0 is none. Drawn from 0.0001, 0.0002, 0.0005, 0.001.</summary>
    public double GravityStep { get; init; }

    /// <summary>Step of the temperature's display; 0 is none. [°C] Drawn from 0.1, 0.25, 0.5.</summary>
    public double CelsiusStep { get; init; }

    /// <summary>Share of readings that are wild: ±0.01 to 0.08 off. Drawn from 0 to 0.01.</summary>
    public double SpikeShare { get; init; }

    /// <summary>Lift by bubbles: gravity added for each unit of gravity lost in a day. Drawn from 0 to 0.25.</summary>
    public double BubbleLift { get; init; }

    /// <summary>Slow drift of the gravity. [1/day] Drawn from -0.0001 to 0.0001.</summary>
    public double DriftPerDay { get; init; }

    /// <summary>Gravity added for each °C above 20. [1/°C] Drawn from -0.0003 to 0.0003.</summary>
    public double GravityPerCelsius { get; init; }

    /// <summary>Share of readings that lack the temperature. Drawn from 0 to 0.02.</summary>
    public double LacksTemperatureShare { get; init; }

    /// <summary>Share of readings that lack the gravity. Drawn from 0 to 0.02.</summary>
    public double LacksGravityShare { get; init; }

    /// <summary>Share of readings that the broker delivers a second time (redelivery). Drawn from 0 to 0.02.</summary>
    public double RedeliveredShare { get; init; }

    /// <summary>Share of readings that the device itself sends twice. Drawn from 0 to 0.01.</summary>
    public double SentTwiceShare { get; init; }

    /// <summary>Share of neighbors that arrive in swapped order. Drawn from 0 to 0.02.</summary>
    public double SwappedShare { get; init; }

    /// <summary>Foam, knocks, racking.</summary>
    public IReadOnlyList<GravityOffset> Offsets { get; init; } = [];

    /// <summary>Gaps.</summary>
    public IReadOnlyList<SilentTime> Gaps { get; init; } = [];

    /// <summary>Times in which the gravity is rubbish: the sensor lies bare, or swims in the wrong vessel while the wine is racked.</summary>
    public IReadOnlyList<SilentTime> Rubbish { get; init; } = [];

    /// <summary>Hours at which somebody stirs: gas lifts the sensor by 0.004 to 0.012, and that dies away within two hours.</summary>
    public IReadOnlyList<double> Stirred { get; init; } = [];

    /// <summary>Part of the room in the measured temperature: 0 in the liquid, up to 0.7 for a sensor outside the glass.</summary>
    public double RoomShare { get; init; }

    /// <summary>What the thermometer shows too much. [°C] Drawn in a third of the ferments of a family, from -1 to 1.</summary>
    public double CelsiusOffset { get; init; }

    /// <summary>Hour at which another device with the same settings takes over; infinite for never.</summary>
    public double SwappedAtHours { get; init; } = double.PositiveInfinity;

    /// <summary>What a second device on the same topic reads above the first; it sends every third message. Null for none.</summary>
    public double? SecondDeviceOffset { get; init; }

    /// <summary>Times in which the device's clock is wrong.</summary>
    public IReadOnlyList<ClockFault> ClockFaults { get; init; } = [];
}
