using System.Text.Json;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Api;

/// <summary>Reads messages that came over HTTP: each says itself what it measures, so its mapping stands in it.</summary>
internal static class HttpReading
{
    /// <summary>How the topics of such messages begin.</summary>
    public const string Root = "http/";

    private static readonly TopicFilter OfDevice = TopicFilter.Parse("http/+");
    private static readonly TopicFilter OfSensor = TopicFilter.Parse("http/+/+");
    private static readonly JsonPointer Value = JsonPointer.Parse("/value");
    private static readonly TimeMapping Time = new(JsonPointer.Parse("/time"), TimeFormat.Iso8601);

    /// <summary>The mapping of a message that came over HTTP; none for any other.</summary>
    public static IEnumerable<TopicMapping> MappingsOf(InboxRow row)
    {
        if (!row.Topic.StartsWith(Root, StringComparison.Ordinal))
        {
            return [];
        }

        try
        {
            using var json = JsonDocument.Parse(row.Payload);
            var reading = json.RootElement;
            if (reading.ValueKind != JsonValueKind.Object
                || !reading.TryGetProperty("quantity", out var quantityWord) || quantityWord.ValueKind != JsonValueKind.String
                || !reading.TryGetProperty("unit", out var unitWord) || unitWord.ValueKind != JsonValueKind.String
                || !SettingWords.Quantities.TryGetValue(quantityWord.GetString()!, out var quantity)
                || !SettingWords.Units.TryGetValue(unitWord.GetString()!, out var unit)
                || UnitConversion.QuantityOf(unit) != quantity)
            {
                return [];
            }

            var (filter, sensor) = OfSensor.Matches(row.Topic) ? (OfSensor, "{1}/{2}") : (OfDevice, "{1}");
            var fields = ValueList.Of<FieldMapping>(new FieldMapping(Value, quantity, unit));
            return [new TopicMapping(sensor, filter, fields, reading.TryGetProperty("time", out _) ? Time : null)];
        }
        catch (JsonException)
        {
            // A message of another origin on such a topic; mappings of the maker may still read it.
            return [];
        }
    }
}
