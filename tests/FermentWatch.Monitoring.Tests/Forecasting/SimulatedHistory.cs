using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Simulation;

namespace FermentWatch.Monitoring.Tests.Forecasting;

/// <summary>A simulated ferment as the product meets it: readings by arrival with repaired clocks, and what a maker would have told.</summary>
internal sealed class SimulatedHistory
{
    private static readonly SensorId Sensor = new("float-1");
    private static readonly EventTime Inoculated = DrawnFerment.Inoculated;

    private readonly List<(double ArrivedHours, Reading Reading)> _gravity = [];
    private readonly List<(double ArrivedHours, Reading Reading)> _celsius = [];
    private readonly Batch _batch;
    private readonly List<JournalEntry> _journal = [];

    public SimulatedHistory(int seed)
    {
        Ferment = FermentSimulator.Run(FermentScenarios.Draw(seed), seed);
        var scenario = Ferment.Scenario;

        // What makers know: most measure the original gravity to 0.001, most know the yeast's packet to half a percent.
        var random = new Random(seed ^ 0x5eed);
        var original = Math.Round(scenario.Must.OriginalGravity.Value + (0.001 * (random.NextDouble() - 0.5)), 3);
        SpecificGravity? told = random.NextDouble() < 0.85 ? SpecificGravity.FromRatio(original) : null;
        var packet = Math.Round(2 * (scenario.Yeast.Tolerance.Percent + random.NextDouble() - 0.5)) / 2;
        AlcoholByVolume? tolerance = random.NextDouble() < 0.8 ? AlcoholByVolume.FromPercent(packet) : null;
        var writes = random.NextDouble() < 0.6;
        foreach (var act in scenario.Interventions.Where(_ => writes))
        {
            var kind = act.Kind switch
            {
                InterventionKind.SugarAdded => JournalKind.SugarAdded,
                InterventionKind.NutrientAdded => JournalKind.NutrientAdded,
                _ => JournalKind.Moved,
            };
            _journal.Add(new JournalEntry(_journal.Count + 1, kind, After(act.HoursSinceInoculation), "", null, null, false));
        }

        _batch = new Batch(
            new BatchId("simulated"),
            "Simulated",
            (FermentKind)(int)scenario.Kind,
            null,
            null,
            Inoculated,
            told,
            null,
            tolerance,
            ValueList.Of(new SensorAttachment(Sensor, Inoculated, null, Placement.InLiquid)));
        Receive();
    }

    public SimulatedFerment Ferment { get; }

    public static EventTime After(double hours) => Inoculated + TimeSpan.FromHours(hours);

    /// <summary>The input of a forecast at an hour, through the product's own cleaning.</summary>
    public ForecastInput InputAt(double hours)
    {
        var now = After(hours);
        var facts = new BatchFacts(
            _batch,
            [.. _journal.Where(entry => entry.At <= now)],
            [
                new SeriesReadings(new SeriesKey(Sensor, QuantityKind.Gravity), [.. _gravity.Where(r => r.ArrivedHours <= hours).Select(r => r.Reading)]),
                new SeriesReadings(new SeriesKey(Sensor, QuantityKind.Temperature), [.. _celsius.Where(r => r.ArrivedHours <= hours).Select(r => r.Reading)]),
            ]);
        var view = BatchAnalysis.View(facts, ViewSettings.Default, PriorSnapshot.Shipped, now);
        return new ForecastInput(
            _batch.Kind,
            _batch.InoculatedAt,
            _batch.OriginalGravity,
            _batch.Tolerance,
            view.Gravity,
            view.Temperature,
            view.Events,
            PriorSnapshot.Shipped,
            now);
    }

    private void Receive()
    {
        var clock = ClockHistory.None;
        long sequence = 0;
        foreach (var sent in Ferment.Readings)
        {
            sequence++;
            var stamp = After(sent.HoursSinceInoculation);
            var received = new ReceivedAt(After(sent.ArrivedHours).UnixMicroseconds);
            var verdict = ClockRepair.Judge(stamp, received, clock);
            clock = verdict.Next;
            if (sent.SpecificGravity is { } gravity)
            {
                _gravity.Add((sent.ArrivedHours, new Reading(verdict.At, sequence, stamp, received, gravity, gravity, verdict.Trusted)));
            }

            if (sent.Celsius is { } celsius)
            {
                _celsius.Add((sent.ArrivedHours, new Reading(verdict.At, sequence, stamp, received, celsius, celsius, verdict.Trusted)));
            }
        }
    }
}
