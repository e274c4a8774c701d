using System.Globalization;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Gates;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Tests.Gates;

/// <summary>A journal that is written by days, and the gates that it shows through the whole view.</summary>
internal sealed class GateStory
{
    public static readonly EventTime Start = EventTime.From(new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero));

    private readonly List<JournalEntry> _journal = [];

    public FermentKind Kind { get; set; } = FermentKind.Wine;

    public Volume? Volume { get; set; }

    public GateSettings Settings { get; set; } = GateSettings.Default;

    /// <summary>Day from which the alert 'ready to stabilize' stands.</summary>
    public double? Ready { get; set; }

    /// <summary>Alcohol; null for what gravity shows. [% vol]</summary>
    public double? Alcohol { get; set; }

    /// <summary>Gravity by a sensor on days, beside the hand readings.</summary>
    public List<(double Day, double Gravity)> Sensor { get; } = [];

    /// <summary>Temperature on days.</summary>
    public List<(double Day, double Celsius)> Warmth { get; } = [];

    public static EventTime Day(double day) => Start + TimeSpan.FromDays(day);

    public BatchView View(double day)
    {
        var batch = new Batch(
            new BatchId("damson"), "Damson", Kind, null, Volume, Start, SpecificGravity.FromRatio(1.09), null, AlcoholByVolume.FromPercent(14), ValueList.Of<SensorAttachment>());
        var view = BatchAnalysis.View(new BatchFacts(batch, _journal, []), ViewSettings.Default, PriorSnapshot.Shipped, Day(day));
        var sensor = Sensor.Where(one => one.Day <= day).Select(one => new GravityPoint(Day(one.Day), SpecificGravity.FromRatio(one.Gravity), 4)).ToList();
        var warmth = Warmth.Where(one => one.Day <= day).Select(one => new TemperaturePoint(Day(one.Day), Degrees(one.Celsius), Degrees(one.Celsius - 0.2), Degrees(one.Celsius + 0.2))).ToList();
        return view with
        {
            Gravity = sensor.Count == 0 ? view.Gravity : ValueList.Of<GravityPoint>(sensor),
            Alcohol = Alcohol is { } percent ? new Computed<AlcoholByVolume>(AlcoholByVolume.FromPercent(percent), 0.5, Validity.WithinSource) : view.Alcohol,
            Temperature = ValueList.Of<TemperaturePoint>(warmth),
            LatestTemperature = warmth.Count == 0 ? null : new Latest<Temperature>(warmth[^1].Temperature, warmth[^1].At, new ReceivedAt(warmth[^1].At.UnixMicroseconds)),
        };
    }

    public ValueList<Gate> At(double day) =>
        GateKeeper.Of(new GateFacts(View(day), Settings) { ReadySince = Ready is { } ready && ready <= day ? Day(ready) : null });

    public GateCondition Of(double day, GateKind kind, string code) =>
        At(day).First(gate => gate.Kind == kind).Conditions.Single(condition => condition.Code == code);

    public GateCondition Bottle(double day, BottlePath path, string code) =>
        At(day).Single(gate => gate.Path == path).Conditions.Single(condition => condition.Code == code);

    public void Read(double day, double gravity) => Add(day, JournalKind.MeasuredByHand, gravity, []);

    public void Write(double day, JournalKind kind, double gravity) => Add(day, kind, gravity, []);

    public void Write(double day, JournalKind kind, params (string Field, object Value)[] values) => Add(
        day, kind, null, [.. values.Select(value => value.Value is string word ? new JournalValue(value.Field, null, word) : new JournalValue(value.Field, Convert.ToDouble(value.Value, CultureInfo.InvariantCulture), null))]);

    public void Add(double day, JournalKind kind, SpecificGravity? gravity, ValueList<JournalValue> values) =>
        _journal.Add(new JournalEntry(_journal.Count + 1, kind, Day(day), "", gravity, null, false) { Values = values });

    private void Add(double day, JournalKind kind, double? gravity, JournalValue[] values) =>
        Add(day, kind, gravity is { } ratio ? SpecificGravity.FromRatio(ratio) : (SpecificGravity?)null, ValueList.Of<JournalValue>(values));

    private static Temperature Degrees(double celsius) => Temperature.FromCelsius(celsius);
}
