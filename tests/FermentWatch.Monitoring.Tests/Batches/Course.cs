using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Tests.Batches;

/// <summary>A made-up course of gravity, with whatever is done to it, as facts of a batch.</summary>
public sealed class Course
{
    private readonly List<Reading> _readings = [];

    public List<JournalEntry> Journal { get; } = [];

    public IReadOnlyList<Reading> Readings => _readings;

    /// <summary>A smooth fall from 90 points to -5 with a lag of a day, read with a little noise.</summary>
    public static double Smooth(double hours) => -5 + (95 / (1 + Math.Exp((hours - 90) / 22)));

    public static Course Of(double hours, double every, Func<double, double> points, double noise = 0.3, int seed = 1)
    {
        var course = new Course();
        var random = new Random(seed);
        for (var t = 0.25; t <= hours; t += every)
        {
            var normal = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
            course.Add(t, points(t) + (noise * normal));
        }

        return course;
    }

    public void Add(double hours, double points, long? sequence = null, bool hasDeviceTime = true)
    {
        var at = SimulatedBatch.At(hours);
        var value = 1 + (points / 1000);
        _readings.Add(new Reading(
            at, sequence ?? _readings.Count + 1, hasDeviceTime ? at : null, new ReceivedAt(at.UnixMicroseconds), value, value, true));
    }

    public void Tell(double hours, JournalKind kind, double? points = null, params JournalValue[] values) => Journal.Add(new JournalEntry(
        Journal.Count + 1,
        kind,
        SimulatedBatch.At(hours),
        string.Empty,
        points is { } p ? SpecificGravity.FromPoints(p) : null,
        null,
        false)
    {
        Values = ValueList.Of<JournalValue>(values),
    });

    public BatchFacts Facts(double? original = null) => new(
        SimulatedBatch.Batch(original is { } points ? SpecificGravity.FromPoints(points) : null),
        Journal,
        _readings.Count == 0 ? [] : [new SeriesReadings(new SeriesKey(SimulatedBatch.Sensor, QuantityKind.Gravity), _readings)]);

    public BatchView View(double now, double? original = null) =>
        BatchAnalysis.View(Facts(original), ViewSettings.Default, PriorSnapshot.Shipped, SimulatedBatch.At(now));
}
