using FermentWatch.Monitoring.Batches.Cleaning;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Simulation;

namespace FermentWatch.Monitoring.Tests.Batches;

/// <summary>Counts how cleaning did on simulated ferments, where it is known what is wrong with a reading.</summary>
public sealed class CleaningScore
{
    private const double SameEvent = 4;

    public int Ferments { get; private set; }

    /// <summary>Readings that are what the sensor's model says, give or take its noise, and the ones of them that were set aside.</summary>
    public int Truthful { get; private set; }

    public int TruthfulSetAside { get; private set; }

    /// <summary>Readings far off, those of them that were set aside, and readings set aside as spikes that are not far off.</summary>
    public int Wild { get; private set; }

    public int WildSetAside { get; private set; }

    public int FalseSpikes { get; private set; }

    public int Knocks { get; private set; }

    public int KnocksFound { get; private set; }

    public int FalseSteps { get; private set; }

    public int Foams { get; private set; }

    public int FoamsFound { get; private set; }

    public int FalseSpells { get; private set; }

    public int Sugars { get; private set; }

    public int SugarsFound { get; private set; }

    public int FalseSugars { get; private set; }

    public List<string> Notes { get; } = [];

    public double Precision => WildSetAside / (double)Math.Max(1, WildSetAside + FalseSpikes);

    public double Recall => WildSetAside / (double)Math.Max(1, Wild);

    public override string ToString() =>
        $"{Ferments} ferments: spikes precision {Precision:P1}, recall {Recall:P1} of {Wild}; truthful set aside {TruthfulSetAside} of {Truthful} "
        + $"({TruthfulSetAside / (double)Math.Max(1, Truthful):P3}); knocks {KnocksFound} of {Knocks}, false {FalseSteps}; "
        + $"foam {FoamsFound} of {Foams}, false {FalseSpells}; sugar {SugarsFound} of {Sugars}, false {FalseSugars}";

    public void Add(int seed)
    {
        var drawn = FermentScenarios.Draw(seed);
        var scenario = drawn with { Sensor = drawn.Sensor with { ClockFaults = [] } };
        var ferment = FermentSimulator.Run(scenario, seed);
        var readings = ReadingFilter.Normalize(
            SimulatedBatch.Gravity(ferment),
            SimulatedBatch.Batch().Sensors.AsSpan(),
            SimulatedBatch.At(SimulatedFerment.TruthHours));
        var track = GravityCleaner.Clean(readings, SimulatedBatch.Start, [], []);
        Ferments++;
        Judge(ferment, track);
        Events(seed, scenario, track);
    }

    private void Judge(SimulatedFerment ferment, GravityTrack track)
    {
        var sensor = ferment.Scenario.Sensor;
        for (var i = 0; i < track.Count; i++)
        {
            var hours = track.Hours[i];
            var truth = ferment.TruthAt(hours);
            var expected = truth.Gravity.Value
                + (sensor.BubbleLift * LossPerDay(ferment, hours))
                + (sensor.DriftPerDay * hours / 24)
                + (sensor.GravityPerCelsius * (truth.Temperature.Celsius - 20));
            var isLifted = false;
            foreach (var offset in sensor.Offsets)
            {
                if (hours >= offset.FromHours && hours < offset.ToHours)
                {
                    expected += offset.Gravity;
                    isLifted |= double.IsFinite(offset.ToHours);
                }
            }

            var error = Math.Abs((track.Points[i] / 1000) + 1 - expected);
            var isAside = track.Marks[i] != Mark.Kept;
            if (error > Math.Max(0.0095, 6 * sensor.GravityNoise))
            {
                Wild++;
                WildSetAside += isAside ? 1 : 0;
            }
            else if (!isLifted && error <= (2 * sensor.GravityNoise) + sensor.GravityStep)
            {
                Truthful++;
                TruthfulSetAside += isAside ? 1 : 0;
                FalseSpikes += track.Marks[i] == Mark.Spike ? 1 : 0;
            }
        }
    }

    private static double LossPerDay(SimulatedFerment ferment, double hours) =>
        Math.Max(0, ferment.TruthAt(hours).Gravity.Value - ferment.TruthAt(hours + 0.25).Gravity.Value) * 24 / 0.25;

    private void Events(int seed, FermentScenario scenario, GravityTrack track)
    {
        var sent = track.Count > 0 ? track.Hours[^1] : 0;
        var steps = track.Steps.Where(step => !step.IsSugar).ToList();
        var sugars = track.Steps.Where(step => step.IsSugar).ToList();
        foreach (var offset in scenario.Sensor.Offsets.Where(offset => offset.FromHours < sent))
        {
            if (double.IsInfinity(offset.ToHours))
            {
                Knocks++;
                var found = steps.RemoveAll(step => Math.Abs(track.Hours[step.Index] - offset.FromHours) < SameEvent) > 0;
                KnocksFound += found ? 1 : 0;
                Note(!found, seed, $"knock {offset.Gravity * 1000:F1} missed", offset.FromHours, scenario);
            }
            else
            {
                Foams++;
                var found = track.Spells.Exists(spell =>
                    track.Hours[spell.First] < offset.ToHours && track.Hours[spell.Last] > offset.FromHours);
                FoamsFound += found ? 1 : 0;
                Note(!found, seed, $"foam {offset.Gravity * 1000:F1} for {offset.ToHours - offset.FromHours:F0} h missed", offset.FromHours, scenario);
            }
        }

        foreach (var spell in track.Spells)
        {
            var isTrue = scenario.Sensor.Offsets.Any(offset =>
                track.Hours[spell.First] < offset.ToHours && track.Hours[spell.Last] > offset.FromHours);
            FalseSpells += isTrue ? 0 : 1;
            Note(!isTrue, seed, $"false spell {spell.Mark} for {track.Hours[spell.Last] - track.Hours[spell.First]:F0} h", track.Hours[spell.First], scenario);
        }

        foreach (var act in scenario.Interventions.Where(act => act.Kind == InterventionKind.SugarAdded && act.HoursSinceInoculation < sent))
        {
            Sugars++;
            var found = sugars.RemoveAll(step => Math.Abs(track.Hours[step.Index] - act.HoursSinceInoculation) < SameEvent) > 0;
            SugarsFound += found ? 1 : 0;
            Note(!found, seed, $"sugar {act.Amount:F0} g/L missed", act.HoursSinceInoculation, scenario);
        }

        FalseSugars += sugars.Count;
        FalseSteps += steps.Count;
        foreach (var step in steps.Concat(sugars))
        {
            Note(true, seed, $"false {(step.IsSugar ? "sugar" : "step")} {step.Offset:F1}", track.Hours[step.Index], scenario);
        }
    }

    private void Note(bool isWorth, int seed, string what, double hours, FermentScenario scenario)
    {
        if (isWorth)
        {
            Notes.Add($"seed {seed}: {what} at {hours:F1} h (noise {scenario.Sensor.GravityNoise * 1000:F2} points, memory "
                + $"{scenario.Sensor.NoiseMemoryHours:F1} h, every {scenario.Sensor.IntervalMinutes} min, step {scenario.Sensor.GravityStep})");
        }
    }
}
