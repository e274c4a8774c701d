using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;
using FermentWatch.Simulation;
using FermentWatch.Simulation.Demo;

namespace FermentWatch.Service.Demo;

/// <summary>Tells the service what the demo's topics mean and which batches its cellar holds.</summary>
internal static class DemoSetup
{
    /// <summary>The settings with the demo's topics, batches and name.</summary>
    /// <param name="settings">Settings as given.</param>
    /// <param name="now">The moment at which the demo turns from history to live.</param>
    public static ServiceSettings Apply(ServiceSettings settings, DateTimeOffset now) => settings with
    {
        Page = settings.Page with { CellarName = DemoCellar.Name },
        Topics = ValueList.Of(DemoCellar.Vessels.SelectMany(Topics)),
        Batches = ValueList.Of(DemoCellar.Vessels.Select(vessel => BatchOf(vessel, now))),
    };

    /// <summary>When the vessel was inoculated.</summary>
    public static DateTimeOffset InoculatedAt(DemoVessel vessel, DateTimeOffset now) => now.AddHours(-vessel.AgeAtNowHours);

    /// <summary>The journal's word for what the demo's maker did.</summary>
    public static JournalKind KindOf(DemoJournalKind kind) => kind switch
    {
        DemoJournalKind.Inoculated => JournalKind.Inoculated,
        DemoJournalKind.NutrientAdded => JournalKind.NutrientAdded,
        DemoJournalKind.SugarAdded => JournalKind.SugarAdded,
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Not a line of the demo's journal."),
    };

    /// <summary>The nutrients that the demo's maker planned for the youngest batch; null for the others.</summary>
    public static JournalDraft? PlanOf(DemoVessel vessel, DateTimeOffset now) => vessel.BatchKey == DemoCellar.Vessels.MinBy(one => one.AgeAtNowHours)!.BatchKey
        ? new JournalDraft(JournalKind.NutrientPlan, EventTime.From(InoculatedAt(vessel, now).AddMinutes(5)), "")
        {
            Values = ValueList.Of(
                new JournalValue("grams", 18, null), new JournalValue("parts", 3, null), new JournalValue("hours-between", 24, null),
                new JournalValue("nutrient", null, "organic")),
        }
        : null;

    private static IEnumerable<TopicMapping> Topics(DemoVessel vessel) => vessel.Publishing.Fields
        .GroupBy(field => field.Topic)
        .Select(fields => new TopicMapping(
            vessel.SensorName,
            TopicFilter.Parse(fields.Key),
            ValueList.Of(fields.Select(Field)),
            vessel.Publishing.TimeJsonPlace is { } place ? new TimeMapping(JsonPointer.Parse(place), TimeFormat.Iso8601) : null));

    private static FieldMapping Field(DemoField field)
    {
        var unit = field.Unit switch
        {
            DemoUnit.SpecificGravity => MeasurementUnit.SpecificGravity,
            DemoUnit.DegreesPlato => MeasurementUnit.DegreesPlato,
            DemoUnit.KilogramsPerCubicMeter => MeasurementUnit.KilogramsPerCubicMeter,
            DemoUnit.DegreesCelsius => MeasurementUnit.DegreesCelsius,
            DemoUnit.DegreesFahrenheit => MeasurementUnit.DegreesFahrenheit,
            _ => throw new ArgumentOutOfRangeException(nameof(field), field.Unit, "Not a unit of the demo."),
        };
        return new FieldMapping(field.JsonPlace is { } place ? JsonPointer.Parse(place) : null, UnitConversion.QuantityOf(unit), unit);
    }

    private static Batch BatchOf(DemoVessel vessel, DateTimeOffset now)
    {
        var inoculated = EventTime.From(InoculatedAt(vessel, now));
        return new Batch(
            new BatchId(vessel.BatchKey),
            vessel.BatchName,
            vessel.Kind switch
            {
                SimulatedKind.Wine => FermentKind.Wine,
                SimulatedKind.Mead => FermentKind.Mead,
                SimulatedKind.Cider => FermentKind.Cider,
                _ => throw new ArgumentOutOfRangeException(nameof(vessel), vessel.Kind, "Not a kind of the demo."),
            },
            vessel.VesselLabel,
            vessel.Volume,
            inoculated,
            vessel.OriginalGravity,
            new TemperatureBand(vessel.BandLow, vessel.BandHigh),
            vessel.Tolerance,
            ValueList.Of(new SensorAttachment(new SensorId(vessel.SensorName), inoculated, null, Placement.InLiquid)));
    }
}
