using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Tests.Telemetry.Calibration;

/// <summary>Readings and a batch of an invented cellar.</summary>
internal static class CalibrationSamples
{
    public static EventTime Start { get; } = EventTime.From(new DateTimeOffset(2026, 10, 6, 6, 0, 0, TimeSpan.Zero));

    public static SensorId Sensor { get; } = new("float");

    public static EventTime At(double hours) => Start + TimeSpan.FromHours(hours);

    public static Reading Reading(double hours, double value) =>
        new(At(hours), (long)(hours * 1000) + 1, null, new ReceivedAt(At(hours).UnixMicroseconds), value, value, true);

    public static Batch Batch(double? original = 1.09, double? liters = 20) => new(
        new BatchId("sloe"),
        "Sloe wine",
        FermentKind.Wine,
        null,
        liters is { } volume ? Volume.FromLiters(volume) : null,
        Start,
        original is { } gravity ? SpecificGravity.FromRatio(gravity) : null,
        null,
        null,
        ValueList.Of<SensorAttachment>(new SensorAttachment(Sensor, Start, null, Placement.InLiquid)));

    public static JournalEntry Hand(long id, double hours, double gravity, bool undone = false) =>
        new(id, JournalKind.MeasuredByHand, At(hours), "", SpecificGravity.FromRatio(gravity), null, undone);
}
