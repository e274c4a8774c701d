using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.Unicode;

namespace FermentWatch.Monitoring.Telemetry;

/// <summary>A value in a message that can be mapped.</summary>
/// <param name="Source">Where in a JSON message; null when the whole message is a plain number.</param>
/// <param name="Name">The names and positions on the way to it, joined by spaces; empty for a plain number.</param>
/// <param name="Text">As it was sent.</param>
/// <param name="Number">The number; null for a time written as text.</param>
/// <param name="Time">How it reads as a time between 2015 and 2100; null when it does not.</param>
public sealed record PayloadValue(JsonPointer? Source, string Name, string Text, double? Number, TimeFormat? Time);

/// <summary>Finds what can be mapped in a message nobody mapped yet. Any bytes give an answer, never an exception.</summary>
public static class PayloadNumbers
{
    /// <summary>Most values that are listed of one message.</summary>
    public const int Most = 60;

    private const double FirstTime = 1_420_070_400;
    private const double LastTime = 4_102_444_800;

    /// <summary>Every number, and every text that reads as a time, at any depth, in the message's order.</summary>
    public static ValueList<PayloadValue> In(ReadOnlySpan<byte> payload)
    {
        payload = payload.StartsWith(Encoding.UTF8.Preamble) ? payload[Encoding.UTF8.Preamble.Length..] : payload;
        if (payload.Length > PayloadDecoder.LongestPayload || !Utf8.IsValid(payload))
        {
            return ValueList.Of<PayloadValue>();
        }

        var text = Encoding.UTF8.GetString(payload).Trim();
        if (PlainNumber.TryRead(text, out var number, out _))
        {
            return ValueList.Of(new PayloadValue(null, string.Empty, text, number, null));
        }

        try
        {
            if (JsonScan.Nesting(payload) > PayloadDecoder.DeepestNesting)
            {
                return ValueList.Of<PayloadValue>();
            }

            using var json = JsonDocument.Parse(JsonScan.QuoteNotFinite(payload) ?? payload.ToArray());
            return ValueList.Of(Inside(json.RootElement, string.Empty, string.Empty).Take(Most));
        }
        catch (JsonException)
        {
            return ValueList.Of<PayloadValue>();
        }
    }

    /// <summary>The number that a pointer names in a message, or null.</summary>
    public static double? At(ReadOnlySpan<byte> payload, JsonPointer? source) =>
        In(payload).FirstOrDefault(value => value.Source?.Text == source?.Text)?.Number;

    private static List<PayloadValue> Inside(JsonElement element, string path, string name)
    {
        var found = new List<PayloadValue>();
        switch (element.ValueKind)
        {
            case JsonValueKind.Object:
                foreach (var property in element.EnumerateObject())
                {
                    if (NameOf(property) is { } key)
                    {
                        var token = key.Replace("~", "~0", StringComparison.Ordinal).Replace("/", "~1", StringComparison.Ordinal);
                        found.AddRange(Inside(property.Value, $"{path}/{token}", Joined(name, key)));
                    }
                }

                break;
            case JsonValueKind.Array:
                var index = 0;
                foreach (var item in element.EnumerateArray())
                {
                    var place = index++.ToString(CultureInfo.InvariantCulture);
                    found.AddRange(Inside(item, $"{path}/{place}", Joined(name, place)));
                }

                break;
            default:
                if (Value(element, JsonPointer.Parse(path), name) is { } value)
                {
                    found.Add(value);
                }

                break;
        }

        return found;
    }

    private static PayloadValue? Value(JsonElement element, JsonPointer source, string name)
    {
        if (element.ValueKind is JsonValueKind.Number or JsonValueKind.String && JsonNumber.TryRead(element, out var number, out _))
        {
            var text = element.ValueKind == JsonValueKind.String ? element.GetString()! : element.GetRawText();
            return new PayloadValue(source, name, text, number, number switch
            {
                >= FirstTime and <= LastTime => TimeFormat.UnixSeconds,
                >= FirstTime * 1000 and <= LastTime * 1000 => TimeFormat.UnixMilliseconds,
                _ => null,
            });
        }

        return element.ValueKind == JsonValueKind.String && JsonNumber.TryText(element, out var stamp) && IsoTime.Read(stamp, out _) is not null
            ? new PayloadValue(source, name, stamp, null, TimeFormat.Iso8601)
            : null;
    }

    private static string? NameOf(JsonProperty property)
    {
        try
        {
            return property.Name;
        }
        catch (InvalidOperationException)
        {
            // Half of an escaped surrogate pair: legal JSON that no pointer can name.
            return null;
        }
    }

    private static string Joined(string before, string next) => before.Length == 0 ? next : before + " " + next;
}
