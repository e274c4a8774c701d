using System.Globalization;
using System.Text.Json;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Api;

/// <summary>What is wrong with a field of a request.</summary>
/// <param name="Pointer">JSON Pointer [RFC 6901] to the field, as a fragment.</param>
/// <param name="Value">What stands there, as JSON; null when nothing does.</param>
/// <param name="Detail">What would be right.</param>
internal sealed record FieldProblem(string Pointer, string? Value, string Detail);

/// <summary>A request with readings, checked: each becomes a message of its own.</summary>
internal static class ReadingsRequest
{
    /// <summary>Most readings in a request.</summary>
    public const int MostReadings = 500;

    private static readonly string[] KnownHere = ["sensor", "readings"];
    private static readonly string[] KnownInside = ["time", "quantity", "unit", "value"];

    /// <summary>Reads a request.</summary>
    /// <param name="root">The body.</param>
    /// <param name="device">Who sends.</param>
    /// <param name="problems">Takes every fault.</param>
    /// <returns>Topic, and a payload for each reading; meaningless when there are faults.</returns>
    public static (string Topic, IReadOnlyList<byte[]> Payloads) Read(JsonElement root, string device, List<FieldProblem> problems)
    {
        if (root.ValueKind != JsonValueKind.Object)
        {
            problems.Add(new("#", Short(root), "must be an object with 'readings'"));
            return ("", []);
        }

        Unknown(root, "#", KnownHere, problems);
        var topic = HttpReading.Root + device;
        if (root.TryGetProperty("sensor", out var sensor))
        {
            if (sensor.ValueKind == JsonValueKind.String && IsLevel(sensor.GetString()!))
            {
                topic += "/" + sensor.GetString();
            }
            else
            {
                problems.Add(new("#/sensor", Short(sensor), "must be a name of 1 to 38 characters without / + # { } and control characters, or left out"));
            }
        }

        if (!root.TryGetProperty("readings", out var readings) || readings.ValueKind != JsonValueKind.Array || readings.GetArrayLength() is 0 or > MostReadings)
        {
            problems.Add(new("#/readings", root.TryGetProperty("readings", out _) ? Short(readings) : null, $"must be a list of 1 to {MostReadings} readings"));
            return (topic, []);
        }

        var payloads = new List<byte[]>();
        var seen = new HashSet<(QuantityKind, EventTime?)>();
        foreach (var (reading, at) in readings.EnumerateArray().Select((reading, at) => (reading, at)))
        {
            payloads.Add(Reading(reading, string.Create(CultureInfo.InvariantCulture, $"#/readings/{at}"), seen, problems));
        }

        return (topic, payloads);
    }

    private static byte[] Reading(JsonElement reading, string at, HashSet<(QuantityKind, EventTime?)> seen, List<FieldProblem> problems)
    {
        if (reading.ValueKind != JsonValueKind.Object)
        {
            problems.Add(new(at, Short(reading), "must be an object such as {\"quantity\":\"gravity\",\"unit\":\"SG\",\"value\":1.05}"));
            return [];
        }

        var before = problems.Count;
        Unknown(reading, at, KnownInside, problems);
        var quantity = Word(reading, at, "quantity", SettingWords.Quantities, SettingWords.OneOf(SettingWords.Quantities.Keys), problems);
        var units = quantity is { } known ? SettingWords.UnitsOf(known) : "a unit of the quantity";
        var unit = Word(reading, at, "unit", SettingWords.Units, units, problems);
        if (quantity is { } kind && unit is { } given && UnitConversion.QuantityOf(given) != kind)
        {
            problems.Add(new(at + "/unit", Short(reading.GetProperty("unit")), $"does not measure {SettingWords.Of(kind)}: must be {units}"));
            unit = null;
        }

        Value(reading, at, unit, problems);
        var time = Time(reading, at, problems);
        if (problems.Count == before && !seen.Add((quantity!.Value, time)))
        {
            problems.Add(new(at + "/time", time is null ? null : Short(reading.GetProperty("time")), "must tell readings of one quantity apart: give each its own time"));
        }

        return JsonSerializer.SerializeToUtf8Bytes(reading);
    }

    private static void Value(JsonElement reading, string at, MeasurementUnit? unit, List<FieldProblem> problems)
    {
        if (!reading.TryGetProperty("value", out var value) || value.ValueKind != JsonValueKind.Number || !value.TryGetDouble(out var number) || !double.IsFinite(number))
        {
            problems.Add(new(at + "/value", reading.TryGetProperty("value", out _) ? Short(value) : null, "must be a number"));
        }
        else if (unit is { } given && !UnitConversion.IsPlausible(number, given))
        {
            problems.Add(new(at + "/value", Short(value), string.Create(
                CultureInfo.InvariantCulture,
                $"must be from {UnitConversion.LowestPlausible(given)} to {UnitConversion.HighestPlausible(given)} {SettingWords.Of(given)}")));
        }
    }

    private static EventTime? Time(JsonElement reading, string at, List<FieldProblem> problems)
    {
        if (!reading.TryGetProperty("time", out var time))
        {
            return null;
        }

        if (time.ValueKind == JsonValueKind.String && IsoTime.Read(time.GetString(), out _) is { } read && read.ToDateTimeOffset().Year is >= 2000 and < 2100)
        {
            return read;
        }

        problems.Add(new(at + "/time", Short(time), "must be a date and time with Z or an offset, such as 2026-03-14T09:26:53Z, or left out: then the arrival counts"));
        return null;
    }

    private static T? Word<T>(JsonElement reading, string at, string name, IReadOnlyDictionary<string, T> words, string right, List<FieldProblem> problems)
        where T : struct
    {
        if (reading.TryGetProperty(name, out var word) && word.ValueKind == JsonValueKind.String && words.TryGetValue(word.GetString()!, out var meaning))
        {
            return meaning;
        }

        problems.Add(new($"{at}/{name}", reading.TryGetProperty(name, out _) ? Short(word) : null, "must be " + right));
        return null;
    }

    private static void Unknown(JsonElement element, string at, string[] known, List<FieldProblem> problems)
    {
        foreach (var field in element.EnumerateObject())
        {
            if (!known.Contains(field.Name, StringComparer.Ordinal))
            {
                problems.Add(new($"{at}/{(field.Name.Length > 40 ? field.Name[..40] : field.Name)}", Short(field.Value), $"is not known here; known are {SettingWords.OneOf(known)}"));
            }
        }

        if (element.EnumerateObject().GroupBy(field => field.Name).FirstOrDefault(group => group.Count() > 1) is { } twice)
        {
            problems.Add(new($"{at}/{(twice.Key.Length > 40 ? twice.Key[..40] : twice.Key)}", null, "is given more than once"));
        }
    }

    private static bool IsLevel(string name) =>
        name.Length is >= 1 and <= 38 && !string.IsNullOrWhiteSpace(name) && !name.Any(letter => char.IsControl(letter) || letter is '/' or '+' or '#' or '{' or '}');

    private static string Short(JsonElement value) => value.GetRawText() is { Length: > 60 } text ? text[..60] + "…" : value.GetRawText();
}
