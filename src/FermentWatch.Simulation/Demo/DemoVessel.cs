using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Simulation.Demo;

/// <summary>A vessel of the demo's cellar: what its maker wrote down, how its sensor publishes, and the ferment behind both.</summary>
/// <remarks>'Now' is the moment at which the demo turns from history to live. Everything is invented.</remarks>
public sealed class DemoVessel
{
    private readonly Lazy<SimulatedFerment> _ferment;
    private readonly Lazy<IReadOnlyList<DemoSample>> _samples;

    internal DemoVessel(FermentScenario scenario, int seed)
    {
        _ferment = new(() => FermentSimulator.Run(
            scenario with { SensorHours = AgeAtNowHours + (DemoCellar.DaysAfterNow * 24) },
            seed));
        _samples = new(() =>
        [
            .. _ferment.Value.Readings
                .Where(reading => reading is { SpecificGravity: not null, Celsius: not null })
                .Select(reading => new DemoSample(
                    reading.HoursSinceInoculation - AgeAtNowHours,
                    reading.SpecificGravity!.Value,
                    reading.Celsius!.Value)),
        ]);
    }

    /// <summary>Stable key: lower-case letters, digits and hyphens.</summary>
    public required string BatchKey { get; init; }

    /// <summary>The maker's name for the batch.</summary>
    public required string BatchName { get; init; }

    /// <summary>What ferments.</summary>
    public SimulatedKind Kind => _ferment.Value.Scenario.Kind;

    /// <summary>What the vessel is called.</summary>
    public required string VesselLabel { get; init; }

    /// <summary>Volume at inoculation.</summary>
    public Volume Volume => Volume.FromLiters(_ferment.Value.Scenario.Room.VesselLiters);

    /// <summary>Hydrometer reading at the start, to 0.001.</summary>
    public SpecificGravity OriginalGravity =>
        SpecificGravity.FromRatio(Math.Round(_ferment.Value.Scenario.Must.OriginalGravity.Value, 3));

    /// <summary>Lower limit of the yeast's working band.</summary>
    public required Temperature BandLow { get; init; }

    /// <summary>Upper limit of the yeast's working band.</summary>
    public required Temperature BandHigh { get; init; }

    /// <summary>Tolerance as on the packet.</summary>
    public AlcoholByVolume Tolerance => _ferment.Value.Scenario.Yeast.Tolerance;

    /// <summary>Time from inoculation to 'now'. [h]</summary>
    public required double AgeAtNowHours { get; init; }

    /// <summary>Name of the sensor: lower-case letters, digits and hyphens.</summary>
    public required string SensorName { get; init; }

    /// <summary>Where and how the sensor publishes.</summary>
    public required DemoPublishing Publishing { get; init; }

    /// <summary>What the maker did, before 'now' and after it, in order.</summary>
    public required IReadOnlyList<DemoJournalLine> Journal { get; init; }

    /// <summary>The ferment, which runs on for at least 40 days after 'now'.</summary>
    public SimulatedFerment Ferment => _ferment.Value;

    /// <summary>What the sensor sends, in order, from inoculation to 45 days after 'now'.</summary>
    public IReadOnlyList<DemoSample> Samples => _samples.Value;

    /// <summary>The messages by which the sensor publishes a sample.</summary>
    /// <param name="sample">One of <see cref="Samples"/>.</param>
    /// <param name="now">The moment that 'now' stands for.</param>
    public IReadOnlyList<DemoMessage> Render(DemoSample sample, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(sample);
        return Publishing.Render(sample, now.AddHours(sample.HoursFromNow));
    }
}

/// <summary>A sample of the demo.</summary>
/// <param name="HoursFromNow">Negative in the history, positive in the live part. [h]</param>
/// <param name="SpecificGravity">Gravity 20/20 °C as the sensor sees it.</param>
/// <param name="Celsius">Temperature as the sensor sees it. [°C]</param>
public sealed record DemoSample(double HoursFromNow, double SpecificGravity, double Celsius);

/// <summary>A message of the demo.</summary>
/// <param name="Topic">Topic.</param>
/// <param name="Payload">Payload, UTF-8.</param>
public sealed record DemoMessage(string Topic, ReadOnlyMemory<byte> Payload);

/// <summary>What a line of the demo's journal is about.</summary>
public enum DemoJournalKind
{
    /// <summary>Yeast went in.</summary>
    Inoculated = 1,

    /// <summary>Nutrient was added.</summary>
    NutrientAdded = 2,

    /// <summary>Sugar or honey was added.</summary>
    SugarAdded = 3,
}

/// <summary>A line of the demo's journal.</summary>
/// <param name="HoursSinceInoculation">When. [h]</param>
/// <param name="Kind">What.</param>
/// <param name="Text">The maker's words.</param>
public sealed record DemoJournalLine(double HoursSinceInoculation, DemoJournalKind Kind, string Text);
