using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Simulation;

namespace FermentWatch.Monitoring.Tests.Batches;

/// <summary>Makes facts of what a simulated sensor sent.</summary>
public static class SimulatedBatch
{
    public static readonly SensorId Sensor = new("float-1");

    public static EventTime Start { get; } = EventTime.From(new DateTimeOffset(2026, 3, 1, 8, 0, 0, TimeSpan.Zero));

    public static EventTime At(double hours) => Start + TimeSpan.FromHours(hours);

    public static Batch Batch(SpecificGravity? original = null) => new(
        new BatchId("trial"),
        "Trial",
        FermentKind.Wine,
        null,
        null,
        Start,
        original,
        null,
        null,
        ValueList.Of(new SensorAttachment(Sensor, Start - TimeSpan.FromDays(2), null, Placement.InLiquid)));

    public static List<Reading> Gravity(SimulatedFerment ferment)
    {
        var readings = new List<Reading>();
        for (var i = 0; i < ferment.Readings.Count; i++)
        {
            var sent = ferment.Readings[i];
            if (sent.SpecificGravity is { } gravity)
            {
                readings.Add(Reading(sent, i, gravity));
            }
        }

        return readings;
    }

    public static BatchFacts Facts(SimulatedFerment ferment)
    {
        var temperature = new List<Reading>();
        for (var i = 0; i < ferment.Readings.Count; i++)
        {
            if (ferment.Readings[i].Celsius is { } celsius)
            {
                temperature.Add(Reading(ferment.Readings[i], i, celsius));
            }
        }

        return new BatchFacts(
            Batch(ferment.Scenario.Must.OriginalGravity),
            [],
            [
                new SeriesReadings(new SeriesKey(Sensor, QuantityKind.Gravity), Gravity(ferment)),
                new SeriesReadings(new SeriesKey(Sensor, QuantityKind.Temperature), temperature),
            ]);
    }

    private static Reading Reading(SimulatedReading sent, int sequence, double value)
    {
        var at = At(sent.HoursSinceInoculation);
        return new Reading(at, sequence, at, new ReceivedAt(At(sent.ArrivedHours).UnixMicroseconds), value, value, true);
    }
}
