using System.Globalization;
using System.Text.Json;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Backtest;

/// <summary>Fields of a JSON object, with a sentence for each that is wrong. A field that is missing or null reads as null.</summary>
/// <param name="place">File and place in it, for the sentence.</param>
/// <param name="element">The object.</param>
internal sealed class JsonFields(string place, JsonElement element)
{
    public string? Text(string name) => Find(name) is not { } found ? null
        : found.ValueKind == JsonValueKind.String && found.GetString() is { Length: > 0 } text ? text
        : throw Wrong(name, "a text that is not empty");

    public double? Number(string name, double lowest, double highest) => Find(name) is not { } found ? null
        : found.TryDouble(out var number) && number >= lowest && number <= highest ? number
        : throw Wrong(name, string.Create(CultureInfo.InvariantCulture, $"a number from {lowest} to {highest}"));

    public bool? Flag(string name) => Find(name) is not { } found ? null
        : found.ValueKind is JsonValueKind.True or JsonValueKind.False ? found.GetBoolean()
        : throw Wrong(name, "true or false");

    public EventTime? Time(string name) => Find(name) is not { } found ? null
        : found.ValueKind == JsonValueKind.String && IsoTime.Read(found.GetString(), out _) is { } time ? time
        : throw Wrong(name, "a date and time with its offset from UTC, such as 2026-03-01T08:00:00Z");

    public IReadOnlyList<JsonElement>? Array(string name) => Find(name) is not { } found ? null
        : found.ValueKind == JsonValueKind.Array ? [.. found.EnumerateArray()]
        : throw Wrong(name, "a list");

    public JsonFields? Object(string name) => Find(name) is not { } found ? null
        : found.ValueKind == JsonValueKind.Object ? new JsonFields($"{place}, {name}", found)
        : throw Wrong(name, "an object in braces");

    public IEnumerable<JsonFields> Objects(string name)
    {
        var all = Array(name) ?? [];
        for (var i = 0; i < all.Count; i++)
        {
            var inside = string.Create(CultureInfo.InvariantCulture, $"{place}, {name}[{i}]");
            yield return all[i].ValueKind == JsonValueKind.Object
                ? new JsonFields(inside, all[i])
                : throw new BacktestException($"{inside}: {all[i].GetRawText()} is not an object in braces.");
        }
    }

    /// <summary>The sentence for a field that is missing or wrong.</summary>
    public BacktestException Wrong(string name, string right) => new(Find(name) is { } found
        ? $"{place}: '{name}' is {Short(found.GetRawText())}; it must be {right}."
        : $"{place}: '{name}' is missing; it must be {right}.");

    private JsonElement? Find(string name) =>
        element.ValueKind == JsonValueKind.Object && element.TryGetProperty(name, out var found) && found.ValueKind != JsonValueKind.Null ? found : null;

    private static string Short(string text) => text.Length <= 60 ? text : text[..57] + "...";
}

/// <summary>Reading numbers without throwing.</summary>
internal static class JsonElementNumbers
{
    /// <summary>The number, when it is a finite one.</summary>
    public static bool TryDouble(this JsonElement element, out double number)
    {
        number = 0;
        return element.ValueKind == JsonValueKind.Number && element.TryGetDouble(out number) && double.IsFinite(number);
    }
}
