using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>
/// The body that a relay gets: a JSON object whose strings may hold {title}, {text}, {priority}, {link} and {key}. So any relay
/// that takes JSON can be fed.
/// </summary>
/// <remarks>
/// A member that is exactly "{link}" is left out when there is no link. One that is exactly "{priority}" becomes a number when the
/// configured priority is a whole number. Values are put into parsed strings, so no notice can break the JSON.
/// </remarks>
public sealed partial class RelayTemplate
{
    /// <summary>What is posted unless configured otherwise.</summary>
    public const string Default =
        """{"notice":"{key}","headline":"{title}","words":"{text}","weight":"{priority}","page":"{link}"}""";

    private static readonly string[] Names = ["title", "text", "priority", "link", "key"];

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
        };
        return JsonSerializer.SerializeToUtf8Bytes(Filled(JsonNode.Parse(_json), values));
    }

    private static JsonNode? Filled(JsonNode? node, Dictionary<string, string> values) => node switch
    {
        JsonObject parent => new JsonObject(parent
            .Where(member => !(values["link"].Length == 0 && IsExactly(member.Value, "{link}")))
            .Select(member => KeyValuePair.Create(member.Key, Filled(member.Value, values)))),
        JsonArray list => new JsonArray([.. list.Select(element => Filled(element, values))]),
        JsonValue value when IsExactly(value, "{priority}") && long.TryParse(values["priority"], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var number) => JsonValue.Create(number),
        JsonValue value when value.TryGetValue<string>(out var text) =>
            JsonValue.Create(Placeholder().Replace(text, match => values[match.Groups[1].Value])),
        _ => node?.DeepClone(),
    };

    private static bool IsExactly(JsonNode? node, string text) => node is JsonValue value && value.TryGetValue<string>(out var found) && found == text;

    private static IEnumerable<string> Strings(JsonNode? node) => node switch
    {
        JsonObject parent => parent.SelectMany(member => Strings(member.Value)),
        JsonArray list => list.SelectMany(Strings),
        JsonValue value when value.TryGetValue<string>(out var text) => [text],
        _ => [],
    };

    [GeneratedRegex(@"\{([a-z]+)\}", RegexOptions.CultureInvariant)]
    private static partial Regex Placeholder();
}
