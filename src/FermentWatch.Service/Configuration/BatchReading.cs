using System.Globalization;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Service.Configuration;

/// <summary>Reads the list Batches.</summary>
internal static class BatchReading
{
    public static ValueList<Batch> Read(SettingValues values, ValueList<TopicMapping> topics, List<string> warnings)
    {
        var batches = new List<Batch>();
        var ids = new Dictionary<string, int>(StringComparer.Ordinal);
        var attached = new List<(SensorAttachment Attachment, string Key)>();
        foreach (var entry in values.Entries("Batches"))
        {
            var before = values.ErrorCount;
            var id = values.Get(BatchesCatalog.BatchId, entry);
            if (id is not null && !ids.TryAdd(id, entry))
            {
                values.Refuse(BatchesCatalog.BatchId, string.Create(CultureInfo.InvariantCulture, $"Batches:{ids[id]} has the same."), entry);
            }

            var inoculatedProblems = values.ErrorCount;
            var inoculated = values.Get(BatchesCatalog.BatchInoculated, entry);
            var inoculatedKnown = values.ErrorCount == inoculatedProblems;
            var batch = new Batch(
                new BatchId(id ?? string.Empty),
                values.Get(BatchesCatalog.BatchName, entry),
                values.Get(BatchesCatalog.BatchKind, entry),
                values.Get(BatchesCatalog.BatchVessel, entry),
                values.Get(BatchesCatalog.BatchVolume, entry) is { } liters ? Volume.FromLiters(liters) : null,
                inoculated,
                values.Get(BatchesCatalog.BatchOriginalGravity, entry) is { } gravity ? SpecificGravity.FromRatio(gravity) : null,
                Band(values, entry),
                values.Get(BatchesCatalog.BatchTolerance, entry) is { } percent ? AlcoholByVolume.FromPercent(percent) : null,
                Sensors(values, entry, inoculatedKnown ? inoculated : null, attached));
            foreach (var sensor in batch.Sensors.Where(sensor => topics.Count > 0 && !topics.Any(topic => CanName(topic, sensor.Sensor))))
            {
                warnings.Add(string.Create(
                    CultureInfo.InvariantCulture,
                    $"Batches:{entry} has the sensor '{sensor.Sensor}', which no entry of Topics gives: new readings will not reach it."));
            }

            if (values.ErrorCount == before)
            {
                batches.Add(batch);
            }
        }

        return ValueList.Of<Batch>(batches);
    }

    private static TemperatureBand? Band(SettingValues values, int entry)
    {
        var low = values.Get(BatchesCatalog.BatchBandLow, entry);
        var high = values.Get(BatchesCatalog.BatchBandHigh, entry);
        if (values.Has(BatchesCatalog.BatchBandLow, entry) && !values.Has(BatchesCatalog.BatchBandHigh, entry))
        {
            values.Refuse(BatchesCatalog.BatchBandHigh, "BandLowCelsius is given, so it is needed.", entry);
        }
        else if (!values.Has(BatchesCatalog.BatchBandLow, entry) && values.Has(BatchesCatalog.BatchBandHigh, entry))
        {
            values.Refuse(BatchesCatalog.BatchBandLow, "BandHighCelsius is given, so it is needed.", entry);
        }

        if (low is not { } from || high is not { } to)
        {
            return null;
        }

        if (from >= to)
        {
            values.Refuse(
                BatchesCatalog.BatchBandHigh,
                string.Create(CultureInfo.InvariantCulture, $"BandLowCelsius is {from} °C, so it must be more than that."),
                entry);
        }

        return new TemperatureBand(Temperature.FromCelsius(from), Temperature.FromCelsius(to));
    }

    private static ValueList<SensorAttachment> Sensors(
        SettingValues values,
        int entry,
        EventTime? inoculated,
        List<(SensorAttachment Attachment, string Key)> attached)
    {
        var sensors = new List<SensorAttachment>();
        foreach (var number in values.Entries(string.Create(CultureInfo.InvariantCulture, $"Batches:{entry}:Sensors")))
        {
            var before = values.ErrorCount;
            var name = values.Get(BatchesCatalog.AttachedSensor, entry, number);
            var from = values.Get(BatchesCatalog.AttachedFrom, entry, number) ?? inoculated;
            var until = values.Get(BatchesCatalog.AttachedUntil, entry, number);
            var placement = values.Get(BatchesCatalog.AttachedPlacement, entry, number);
            if (values.ErrorCount > before || from is not { } begin)
            {
                continue;
            }

            if (until is { } end && end <= begin)
            {
                values.Refuse(BatchesCatalog.AttachedUntil, $"It begins at {begin}, so this must be later.", entry, number);
                continue;
            }

            var attachment = new SensorAttachment(new SensorId(name), begin, until, placement);
            if (attached.FirstOrDefault(other => Overlap(other.Attachment, attachment)) is { Key: not null } same)
            {
                values.Refuse(
                    BatchesCatalog.AttachedSensor,
                    $"{same.Key} has this sensor at the same time: end that one with Until, or begin this one later with From.",
                    entry,
                    number);
                continue;
            }

            attached.Add((attachment, string.Create(CultureInfo.InvariantCulture, $"Batches:{entry}:Sensors:{number}")));
            sensors.Add(attachment);
        }

        return ValueList.Of<SensorAttachment>(sensors);
    }

    private static bool Overlap(SensorAttachment one, SensorAttachment other) =>
        one.Sensor == other.Sensor
        && (one.Until is not { } firstEnd || firstEnd > other.From)
        && (other.Until is not { } secondEnd || secondEnd > one.From);

    private static bool CanName(TopicMapping topic, SensorId sensor) =>
        SensorTemplate.Parse(topic.Sensor, topic.Filter.WildcardLevels).CanName(sensor);
}
