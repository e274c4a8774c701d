using System.Text;
using System.Text.Json;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Rejections as JSON: <c>[[field, code, [letter, value, ...], ...], ...]</c>, a letter for each type of value.</summary>
internal static class ReasonJson
{
    /// <summary>Writes rejections; null for none.</summary>
    public static string? Write(IReadOnlyList<RejectedField> rejections)
    {
        if (rejections.Count == 0)
        {
            return null;
        }

        using var buffer = new MemoryStream();
        using (var json = new Utf8JsonWriter(buffer))
        {
            json.WriteStartArray();
            foreach (var rejection in rejections)
            {
                json.WriteStartArray();
                json.WriteStringValue(rejection.Field);
                json.WriteStringValue(rejection.Because.Code);
                foreach (var value in rejection.Because.Values)
                {
                    json.WriteStartArray();
                    Write(json, value);
                    json.WriteEndArray();
                }

                json.WriteEndArray();
            }

            json.WriteEndArray();
        }

        return Encoding.UTF8.GetString(buffer.GetBuffer(), 0, (int)buffer.Length);
    }

    /// <summary>Reads what <see cref="Write(IReadOnlyList{RejectedField})"/> wrote.</summary>
    public static IReadOnlyList<RejectedField> Read(string? text)
    {
        if (text is null)
        {
            return [];
        }

        using var json = JsonDocument.Parse(text);
        return [.. json.RootElement.EnumerateArray().Select(item => new RejectedField(
            item[0].GetString()!,
            Reason.Of(item[1].GetString()!, [.. item.EnumerateArray().Skip(2).Select(Value)])))];
    }

    private static void Write(Utf8JsonWriter json, ReasonValue value)
    {
        switch (value)
        {
            case ReasonValue.Gravity gravity:
                json.WriteStringValue("g");
                Write(json, gravity.Ratio);
                json.WriteBooleanValue(gravity.IsDifference);
                break;
            case ReasonValue.Degrees degrees:
                json.WriteStringValue("c");
                Write(json, degrees.Celsius);
                json.WriteBooleanValue(degrees.IsDifference);
                break;
            case ReasonValue.Moment moment:
                json.WriteStringValue("t");
                json.WriteNumberValue(moment.At.UnixMicroseconds);
                break;
            case ReasonValue.Length length:
                json.WriteStringValue("l");
                json.WriteNumberValue(length.Span.Ticks);
                break;
            case ReasonValue.Count count:
                json.WriteStringValue("n");
                json.WriteNumberValue(count.Number);
                break;
            case ReasonValue.Odds odds:
                json.WriteStringValue("o");
                Write(json, odds.Probability);
                break;
            case ReasonValue.Measured measured:
                json.WriteStringValue("m");
                Write(json, measured.Number);
                json.WriteNumberValue((int)measured.Unit);
                break;
            case ReasonValue.Name name:
                json.WriteStringValue("s");
                json.WriteStringValue(name.Text);
                break;
            default:
                throw new ArgumentException($"A reason holds a value of the type {value.GetType().Name}, which cannot be stored yet.", nameof(value));
        }
    }

    /// <summary>JSON has no infinities, and a rejected number may well be one.</summary>
    private static void Write(Utf8JsonWriter json, double number)
    {
        if (double.IsFinite(number))
        {
            json.WriteNumberValue(number);
        }
        else
        {
            json.WriteStringValue(double.IsNaN(number) ? "NaN" : number > 0 ? "Infinity" : "-Infinity");
        }
    }

    private static double Number(JsonElement element) => element.ValueKind == JsonValueKind.Number
        ? element.GetDouble()
        : element.GetString() switch { "Infinity" => double.PositiveInfinity, "-Infinity" => double.NegativeInfinity, _ => double.NaN };

    private static ReasonValue Value(JsonElement item) => item[0].GetString() switch
    {
        "g" => new ReasonValue.Gravity(Number(item[1]), item[2].GetBoolean()),
        "c" => new ReasonValue.Degrees(Number(item[1]), item[2].GetBoolean()),
        "t" => new ReasonValue.Moment(new EventTime(item[1].GetInt64())),
        "l" => new ReasonValue.Length(TimeSpan.FromTicks(item[1].GetInt64())),
        "n" => new ReasonValue.Count(item[1].GetInt64()),
        "o" => new ReasonValue.Odds(Number(item[1])),
        "m" => new ReasonValue.Measured(Number(item[1]), (MeasurementUnit)item[2].GetInt32()),
        _ => new ReasonValue.Name(item[1].GetString()!),
    };
}
