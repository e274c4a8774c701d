using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>
/// The body that a relay gets: a JSON object whose strings may hold the places of <see cref="Names"/>. So any relay
/// that takes JSON can be fed.
/// </summary>
/// <remarks>
/// A member that is exactly "{link}", "{picture}", "{acts}" or the name of an act is left out when there is none, and so is an object of a
/// list with such a member. One that is exactly "{priority}" becomes a number when the configured priority is a whole number, one that
/// is exactly "{acts}" a list of objects with act, label and page; {picture} is a PNG in base64 (RFC 4648, section 4). Values are put into parsed strings, so no notice can break the JSON.
/// </remarks>
public sealed partial class RelayTemplate
{
    /// <summary>What is posted unless configured otherwise.</summary>
    public const string Default =
        """{"notice":"{key}","headline":"{title}","words":"{text}","weight":"{priority}","page":"{link}","acts":"{acts}","picture":"{picture}"}""";

    private const string ActList = "acts";

    private static readonly string[] Acts = ["on-it", "snooze", "wrong"];

    // What a notice may lack: a member with nothing else in it then goes.
    private static readonly string[] Optional = ["link", ActList, "picture", .. Acts];

    /// <summary>Every place, without its braces.</summary>
    public static IReadOnlyList<string> Names { get; } = ["title", "text", "priority", "link", "key", ActList, "on-it", "snooze", "wrong", "picture"];

    private readonly string _json;

    private RelayTemplate(string json) => _json = json;

    /// <summary>Reads a template.</summary>
    /// <exception cref="FormatException">It is none: the message says why.</exception>
    public static RelayTemplate Parse(string json) =>
        FaultOf(json) is { } fault ? throw new FormatException(fault) : new RelayTemplate(json);

    /// <summary>What is wrong with a template, or null.</summary>
    public static string? FaultOf(string json)
    {
        try
        {
            if (JsonNode.Parse(json) is not JsonObject body)
            {
                return "Body must be a JSON object, such as " + Default;
            }

            var unknown = Strings(body)
                .SelectMany(text => Placeholder().Matches(text).Select(match => match.Groups[1].Value))
                .FirstOrDefault(name => !Names.Contains(name));
            return unknown is null
                ? null
                : $"Body has the placeholder {{{unknown}}}, which does not exist. Placeholders: {string.Join(", ", Names.Select(name => $"{{{name}}}"))}.";
        }
        catch (JsonException exception)
        {
            return $"Body must be JSON; it is not at line {exception.LineNumber + 1}, byte {exception.BytePositionInLine + 1}.";
        }
    }

    /// <summary>The body for one notice, in UTF-8.</summary>
    public byte[] Fill(NoticeMessage message, string priority)
    {
        var values = new Dictionary<string, string>
        {
            ["title"] = message.Title,
            ["text"] = message.Text,
            ["priority"] = priority,
            ["link"] = message.Link?.AbsoluteUri ?? "",
            ["key"] = message.Key,
            [ActList] = string.Join(' ', message.Acts.Select(act => act.Link.AbsoluteUri)),
            ["picture"] = message.Picture is { } picture ? Convert.ToBase64String(picture.Png.Span) : "",
        };
        foreach (var word in Acts)
        {
            values[word] = message.Acts.FirstOrDefault(act => act.Word == word)?.Link.AbsoluteUri ?? "";
        }

        return JsonSerializer.SerializeToUtf8Bytes(Filled(JsonNode.Parse(_json), values, message));
    }

    private static JsonNode? Filled(JsonNode? node, Dictionary<string, string> values, NoticeMessage message) => node switch
    {
        JsonObject parent => new JsonObject(parent
            .Where(member => !IsMissing(member.Value, values))
            .Select(member => KeyValuePair.Create(member.Key, Filled(member.Value, values, message)))),
        JsonArray list => new JsonArray([.. list
            .Where(element => !IsMissing(element, values) && (element as JsonObject)?.Any(member => IsMissing(member.Value, values)) != true)
            .Select(element => Filled(element, values, message))]),
        JsonValue value when IsExactly(value, "{priority}") && long.TryParse(values["priority"], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var number) => JsonValue.Create(number),
        JsonValue value when IsExactly(value, "{acts}") =>
            new JsonArray([.. message.Acts.Select(act => new JsonObject { ["act"] = act.Word, ["label"] = act.Label, ["page"] = act.Link.AbsoluteUri })]),
        JsonValue value when value.TryGetValue<string>(out var text) =>
            JsonValue.Create(Placeholder().Replace(text, match => values[match.Groups[1].Value])),
        _ => node?.DeepClone(),
    };

    private static bool IsMissing(JsonNode? node, Dictionary<string, string> values) => Optional.Any(name => values[name].Length == 0 && IsExactly(node, $"{{{name}}}"));

    private static bool IsExactly(JsonNode? node, string text) => node is JsonValue value && value.TryGetValue<string>(out var found) && found == text;

    private static IEnumerable<string> Strings(JsonNode? node) => node switch
    {
        JsonObject parent => parent.SelectMany(member => Strings(member.Value)),
        JsonArray list => list.SelectMany(Strings),
        JsonValue value when value.TryGetValue<string>(out var text) => [text],
        _ => [],
    };

    [GeneratedRegex(@"\{([a-z]+(?:-[a-z]+)*)\}", RegexOptions.CultureInvariant)]
    private static partial Regex Placeholder();
}
