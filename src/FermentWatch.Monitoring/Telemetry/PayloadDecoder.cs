using System.Text;
using System.Text.Json;
using System.Text.Unicode;

namespace FermentWatch.Monitoring.Telemetry;

/// <summary>Turns the bytes of a message into numbers under a mapping. Any bytes give an answer, never an exception.</summary>
/// <remarks>
/// <para>A plain number is read as ASCII digits with a decimal point, white space around it allowed. In JSON a number may also stand
/// in a string ("1.012"), as many home-made sensors write it. A byte order mark is skipped. NaN and Infinity, which are not JSON but
/// are what printf writes for a failed sensor, cost their own field only. Of a name that occurs twice neither value is taken.</para>
/// <para>A pure function of its arguments: after a mapping was changed, kept messages are decoded again.</para>
/// <para><b>Source.</b> RFC 8259 (JSON), RFC 6901 (JSON Pointer).</para>
/// </remarks>
public static class PayloadDecoder
{
    /// <summary>Longest message that is read, in bytes.</summary>
    public const int LongestPayload = 8192;

    /// <summary>Deepest nesting of objects and arrays that is read.</summary>
    public const int DeepestNesting = 64;

    private static readonly JsonReaderOptions StrictJson = new() { MaxDepth = DeepestNesting, CommentHandling = JsonCommentHandling.Disallow };

    /// <summary>Decodes a message.</summary>
    /// <param name="topic">Its topic.</param>
    /// <param name="payload">Its bytes.</param>
    /// <param name="mapping">What its numbers mean.</param>
    public static DecodedMessage Decode(string topic, ReadOnlySpan<byte> payload, TopicMapping mapping)
    {
        ArgumentNullException.ThrowIfNull(topic);
        ArgumentNullException.ThrowIfNull(mapping);
        if (!TrySensor(topic, mapping, out var sensor, out var why))
        {
            return NothingTaken(null, mapping, why!);
        }

        if (payload.Length > LongestPayload)
        {
            return TooLong(topic, payload.Length, mapping);
        }

        payload = payload.StartsWith(Encoding.UTF8.Preamble) ? payload[Encoding.UTF8.Preamble.Length..] : payload;
        if (payload.IsEmpty)
        {
            return NothingTaken(sensor, mapping, Reason.Of(DecodeReasons.PayloadEmpty));
        }

        if (!Utf8.IsValid(payload))
        {
            return NothingTaken(sensor, mapping, Reason.Of(DecodeReasons.PayloadNotText));
        }

        JsonDocument? json = null;
        Reason? notJson = null;
        if (mapping.Time is not null || mapping.Fields.Any(field => field.Source is not null))
        {
            json = ParseJson(payload, out notJson);
        }

        using (json)
        {
            return Take(sensor, payload, json, notJson, mapping);
        }
    }

    /// <summary>The answer for a message of which only the beginning was kept because it is longer than <see cref="LongestPayload"/>.</summary>
    /// <param name="topic">Its topic.</param>
    /// <param name="size">Its size on the wire, in bytes.</param>
    /// <param name="mapping">What its numbers would have meant.</param>
    public static DecodedMessage TooLong(string topic, int size, TopicMapping mapping)
    {
        ArgumentNullException.ThrowIfNull(topic);
        ArgumentNullException.ThrowIfNull(mapping);
        TrySensor(topic, mapping, out var sensor, out _);
        return NothingTaken(
            sensor,
            mapping,
            Reason.Of(DecodeReasons.PayloadTooLong, new ReasonValue.Count(size), new ReasonValue.Count(LongestPayload)));
    }

    private static DecodedMessage Take(SensorId? sensor, ReadOnlySpan<byte> payload, JsonDocument? json, Reason? notJson, TopicMapping mapping)
    {
        var accepted = new List<AcceptedField>();
        var rejected = new List<RejectedField>();
        foreach (var field in mapping.Fields)
        {
            if (TryNumber(payload, json, notJson, field.Source, out var raw, out var why)
                && Plausibility.TryAccept(raw, field.Unit, out why))
            {
                accepted.Add(new AcceptedField(field.Quantity, field.Unit, raw, UnitConversion.ToCanonical(raw, field.Unit)));
            }
            else
            {
                rejected.Add(new RejectedField(field.Quantity, field.Unit, why!));
            }
        }

        EventTime? deviceTime = null;
        var timeRejected = mapping.Time is null ? null : notJson;
        if (mapping.Time is { } time && json is not null && time.Source.TryFind(json.RootElement, out var stamp, out timeRejected))
        {
            deviceTime = DeviceClock.Read(stamp, time.Format, out timeRejected);
        }

        return new DecodedMessage(sensor, ValueList.Of<AcceptedField>(accepted), ValueList.Of<RejectedField>(rejected), deviceTime, timeRejected);
    }

    private static bool TryNumber(ReadOnlySpan<byte> payload, JsonDocument? json, Reason? notJson, JsonPointer? source, out double number, out Reason? why)
    {
        number = 0;
        if (source is null)
        {
            return TryPlain(payload, out number, out why);
        }

        if (json is null)
        {
            why = notJson;
            return false;
        }

        return source.TryFind(json.RootElement, out var found, out why) && JsonNumber.TryRead(found, out number, out why);
    }

    private static bool TryPlain(ReadOnlySpan<byte> payload, out double number, out Reason? why)
    {
        var text = Encoding.UTF8.GetString(payload);
        var first = text.AsSpan().TrimStart(" \t\r\n");
        if (!first.IsEmpty && (first[0] is '{' or '['))
        {
            number = 0;
            why = Reason.Of(DecodeReasons.PayloadIsJson);
            return false;
        }

        return PlainNumber.TryRead(text, out number, out why);
    }

    private static JsonDocument? ParseJson(ReadOnlySpan<byte> payload, out Reason? why)
    {
        if (JsonScan.Nesting(payload) > DeepestNesting)
        {
            why = Reason.Of(DecodeReasons.PayloadTooDeep, new ReasonValue.Count(DeepestNesting));
            return null;
        }

        if (TryParseStrict(payload, out why) is { } strict)
        {
            return strict;
        }

        if (JsonScan.QuoteNotFinite(payload) is { } mended && TryParseStrict(mended, out _) is { } lenient)
        {
            why = null;
            return lenient;
        }

        return null;
    }

    private static JsonDocument? TryParseStrict(ReadOnlySpan<byte> payload, out Reason? why)
    {
        JsonDocument? json = null;
        try
        {
            var reader = new Utf8JsonReader(payload, StrictJson);
            json = JsonDocument.ParseValue(ref reader);

            // Throws when anything but white space follows.
            reader.Read();
            why = null;
            return json;
        }
        catch (JsonException mistake)
        {
            json?.Dispose();
            why = Reason.Of(
                DecodeReasons.PayloadNotJson,
                new ReasonValue.Count((mistake.LineNumber ?? 0) + 1),
                new ReasonValue.Count((mistake.BytePositionInLine ?? 0) + 1));
            return null;
        }
    }

    private static bool TrySensor(string topic, TopicMapping mapping, out SensorId? sensor, out Reason? why)
    {
        sensor = null;
        if (mapping.Filter.Captures(topic) is not { } captures)
        {
            why = Reason.Of(DecodeReasons.TopicNotMapped, Quoted.Value(topic), new ReasonValue.Name(mapping.Filter.Text));
            return false;
        }

        sensor = mapping.Name(captures, out var name);
        why = sensor is null ? Reason.Of(DecodeReasons.SensorNameUnusable, Quoted.Value(name)) : null;
        return sensor is not null;
    }

    private static DecodedMessage NothingTaken(SensorId? sensor, TopicMapping mapping, Reason why) => new(
        sensor,
        ValueList.Of<AcceptedField>(),
        ValueList.Of(mapping.Fields.Select(field => new RejectedField(field.Quantity, field.Unit, why))),
        null,
        mapping.Time is null ? null : why);
}
