using FermentWatch.Simulation;

namespace FermentWatch.Benchmarks.Ferments;

/// <summary>What is done to a simulated ferment so that there is something to tell: a stove or a cold snap for some hours, and a sensor that is not heard.</summary>
/// <remarks>
/// One to three spells of the room between hour 24 and 620, 3 to 20 h long, each strong enough to bring the liquid 0.7 to 5 °C beyond a limit of the band
/// (at most 20 °C); up to three silences of 0.5 to 36 h between hour 10 and 700. The ranges are ours, no source.
/// </remarks>
internal sealed class Injection
{
    private const double StrongestCelsius = 20;

    private readonly List<(double From, double To)> _silences = [];

    /// <summary>Draws what is done to a scenario. The same arguments give the same.</summary>
    public Injection(FermentScenario scenario, (double Low, double High) band, int seed)
    {
        var random = new Random(seed ^ 0x5f31);
        double Between(double low, double high) => low + ((high - low) * random.NextDouble());
        var (room, from, spells) = (scenario.Room, Between(24, 160), new List<RoomSpell>());
        for (var times = random.Next(1, 4); times > 0; times--)
        {
            var (hours, beyond) = (Between(3, 20), Between(0.7, 5));
            var change = (random.Next(2) == 0 ? band.High + beyond : band.Low - beyond) - room.MeanCelsius;
            var strength = Math.Clamp(change / (1 - Math.Exp(-hours / room.FollowingHours)), -StrongestCelsius, StrongestCelsius);
            spells.Add(new RoomSpell(from, from + hours, strength));
            from += hours + Between(48, 200);
        }

        for (var times = random.Next(0, 4); times > 0; times--)
        {
            var begin = Between(10, 700);
            _silences.Add((begin, begin + (0.5 * Math.Pow(72, random.NextDouble()))));
        }

        Scenario = scenario with { Room = room with { Spells = [.. room.Spells, .. spells] } };
    }

    /// <summary>The scenario with the spells.</summary>
    public FermentScenario Scenario { get; }

    /// <summary>What was heard of it.</summary>
    public IEnumerable<SimulatedReading> Heard(IEnumerable<SimulatedReading> readings) => readings.Where(reading =>
        _silences.TrueForAll(silence => reading.ArrivedHours < silence.From || reading.ArrivedHours > silence.To));
}
