using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Simulation;

namespace FermentWatch.Benchmarks.Cost;

/// <summary>A slow mead of 60 days with a reading of gravity and temperature a minute, as facts up to any minute.</summary>
internal sealed class LongBatch
{
    private static readonly SensorId Sensor = new("float-1");
    private readonly Batch _batch;
    private readonly Reading[] _gravity;
    private readonly Reading[] _celsius;

    public LongBatch(int seed)
    {
        var plain = FermentScenarios.Plain(SimulatedKind.Mead);
        var scenario = plain with
        {
            Must = plain.Must with { NitrogenMilligramsPerLiter = 75 },
            Room = plain.Room with { MeanCelsius = 16.5, DailySwingCelsius = 1.5 },
            Sensor = new SensorTraits { IntervalMinutes = 1, GravityNoise = 0.0006, NoiseMemoryHours = 2, GravityStep = 0.0001, CelsiusStep = 0.1, SpikeShare = 0.002, BubbleLift = 0.001 },
        };
        _batch = new Batch(
            new BatchId("long"), "Long", FermentKind.Mead, null, null, Inoculated, scenario.Must.OriginalGravity, null, AlcoholByVolume.FromPercent(16),
            ValueList.Of(new SensorAttachment(Sensor, Inoculated, null, Placement.InLiquid)));
        var sent = FermentSimulator.Run(scenario, seed).Readings;
        _gravity = [.. sent.Where(one => one.SpecificGravity is not null).Select((one, i) => Read(one, i, one.SpecificGravity!.Value))];
        _celsius = [.. sent.Where(one => one.Celsius is not null).Select((one, i) => Read(one, i, one.Celsius!.Value))];
    }

    public static EventTime Inoculated { get; } = EventTime.From(new DateTimeOffset(2026, 3, 1, 12, 0, 0, TimeSpan.Zero));

    public int Count => _gravity.Length;

    /// <summary>The view that the service makes at a minute.</summary>
    public BatchView ViewAt(int minute, BatchView? before) => BatchAnalysis.View(FactsAt(minute), ViewSettings.Default, PriorSnapshot.Shipped, Inoculated + TimeSpan.FromMinutes(minute), before);

    private BatchFacts FactsAt(int minute)
    {
        var now = Inoculated + TimeSpan.FromMinutes(minute);
        return new BatchFacts(
            _batch,
            [],
            [
                new SeriesReadings(new SeriesKey(Sensor, QuantityKind.Gravity), [.. _gravity.TakeWhile(one => one.At <= now)]),
                new SeriesReadings(new SeriesKey(Sensor, QuantityKind.Temperature), [.. _celsius.TakeWhile(one => one.At <= now)]),
            ]);
    }

    private static Reading Read(SimulatedReading sent, int position, double value)
    {
        var at = Inoculated + TimeSpan.FromHours(sent.HoursSinceInoculation);
        return new Reading(at, position, at, new ReceivedAt(at.UnixMicroseconds), value, value, true);
    }
}
