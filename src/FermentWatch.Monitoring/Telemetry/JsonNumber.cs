using System.Diagnostics.CodeAnalysis;
using System.Text.Json;

namespace FermentWatch.Monitoring.Telemetry;

/// <summary>Reads a number that stands in JSON as a number, or as a string that holds a plain one.</summary>
internal static class JsonNumber
{
    public static bool TryRead(JsonElement element, out double number, [NotNullWhen(false)] out Reason? why)
    {
        number = 0;
        switch (element.ValueKind)
        {
            case JsonValueKind.Number:
                return PlainNumber.TryRead(element.GetRawText(), out number, out why);
            case JsonValueKind.String when TryText(element, out var text):
                return PlainNumber.TryRead(text, out number, out why);
            case JsonValueKind.String:
                why = Reason.Of(DecodeReasons.NumberNotPlain, Quoted.Value(element.GetRawText()));
                return false;
            case JsonValueKind.True or JsonValueKind.False:
                why = Reason.Of(DecodeReasons.NumberIsBoolean, Quoted.Value(element.GetRawText()));
                return false;
            case JsonValueKind.Object or JsonValueKind.Array:
                why = Reason.Of(DecodeReasons.NumberIsStructure);
                return false;
            default:
                why = Reason.Of(DecodeReasons.NumberIsNull);
                return false;
        }
    }

    /// <summary>The text of a string; false for one with half of an escaped surrogate pair: legal JSON, on which the library throws.</summary>
    public static bool TryText(JsonElement element, out string text)
    {
        try
        {
            text = element.GetString() ?? string.Empty;
            return true;
        }
        catch (InvalidOperationException)
        {
            text = string.Empty;
            return false;
        }
    }
}
