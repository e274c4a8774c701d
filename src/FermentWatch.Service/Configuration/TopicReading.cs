using System.Globalization;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Configuration;

/// <summary>Reads the list Topics.</summary>
internal static class TopicReading
{
    public static ValueList<TopicMapping> Read(SettingValues values)
    {
        var mappings = new List<TopicMapping>();
        var series = new Dictionary<(string Sensor, string Filter, QuantityKind Quantity), string>();
        foreach (var entry in values.Entries("Topics"))
        {
            var before = values.ErrorCount;
            var filter = values.Get(TopicsCatalog.TopicFilterText, entry);
            var sensor = Sensor(values, filter, entry);
            var fields = Fields(values, entry);
            var time = Time(values, entry);
            if (values.ErrorCount > before)
            {
                continue;
            }

            var mapping = new TopicMapping(sensor, filter, ValueList.Of<FieldMapping>(fields), time);
            CheckSeries(values, mapping, entry, series);
            if (values.ErrorCount == before)
            {
                mappings.Add(mapping);
            }
        }

        return ValueList.Of<TopicMapping>(mappings);
    }

    private static string Sensor(SettingValues values, TopicFilter? filter, int entry)
    {
        var sensor = values.Get(TopicsCatalog.TopicSensor, entry);
        if (sensor is not null && filter is not null && !SensorTemplate.TryParse(sensor, filter.WildcardLevels, out _, out var problem))
        {
            values.Refuse(TopicsCatalog.TopicSensor, problem, entry);
        }

        return sensor!;
    }

    private static List<FieldMapping> Fields(SettingValues values, int entry)
    {
        var fields = new List<FieldMapping>();
        var seen = new HashSet<QuantityKind>();
        var numbers = values.Entries(Invariant($"Topics:{entry}:Fields"));
        if (numbers.Count == 0)
        {
            values.Add(Invariant($"Topics:{entry}:Fields is missing: give at least one field, such as {{ \"Quantity\": \"gravity\", \"Unit\": \"SG\" }}."));
        }

        foreach (var number in numbers)
        {
            var before = values.ErrorCount;
            var source = values.Get(TopicsCatalog.FieldPointer, entry, number);
            var quantity = values.Get(TopicsCatalog.FieldQuantity, entry, number);
            var unit = values.Get(TopicsCatalog.FieldUnit, entry, number);
            if (values.ErrorCount > before)
            {
                continue;
            }

            if (UnitConversion.QuantityOf(unit) != quantity)
            {
                values.Refuse(TopicsCatalog.FieldUnit, $"For '{SettingWords.Of(quantity)}' it must be {SettingWords.UnitsOf(quantity)}.", entry, number);
            }
            else if (!seen.Add(quantity))
            {
                values.Refuse(TopicsCatalog.FieldQuantity, $"This topic entry has '{SettingWords.Of(quantity)}' twice: a sensor has each quantity once.", entry, number);
            }
            else
            {
                fields.Add(new FieldMapping(source, quantity, unit));
            }
        }

        return fields;
    }

    private static TimeMapping? Time(SettingValues values, int entry)
    {
        var source = values.Get(TopicsCatalog.TimePointer, entry);
        var format = values.Get(TopicsCatalog.TimeFormatWord, entry);
        if (values.Has(TopicsCatalog.TimeFormatWord, entry) && !values.Has(TopicsCatalog.TimePointer, entry))
        {
            values.Refuse(TopicsCatalog.TimePointer, "Time:Format is given, so it is needed.", entry);
        }

        return source is null ? null : new TimeMapping(source, format);
    }

    /// <summary>Two entries that surely feed one series would mix two sensors, or count one twice.</summary>
    private static void CheckSeries(
        SettingValues values,
        TopicMapping mapping,
        int entry,
        Dictionary<(string Sensor, string Filter, QuantityKind Quantity), string> series)
    {
        var fixedName = SensorTemplate.Parse(mapping.Sensor, mapping.Filter.WildcardLevels).IsFixed;
        foreach (var field in mapping.Fields)
        {
            var key = (mapping.Sensor, fixedName ? string.Empty : mapping.Filter.Text, field.Quantity);
            if (series.TryGetValue(key, out var earlier))
            {
                values.Refuse(
                    TopicsCatalog.TopicSensor,
                    $"{earlier} already gives '{SettingWords.Of(field.Quantity)}' of this sensor: name the sensors differently, or leave one out.",
                    entry);
                return;
            }

            series.Add(key, Invariant($"Topics:{entry}"));
        }
    }

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
