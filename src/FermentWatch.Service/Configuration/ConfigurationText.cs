using System.Globalization;
using System.Text.Json;

namespace FermentWatch.Service.Configuration;

/// <summary>A value as it was given, with where it came from.</summary>
internal sealed record GivenValue(string Key, string Text, string Origin);

/// <summary>Lays the three places where settings may stand out flat: keys of names joined by ':', capitals ignored.</summary>
internal static class ConfigurationText
{
    /// <summary>Prefix of the environment variables that are settings.</summary>
    public const string EnvironmentPrefix = "FERMENTWATCH__";

    private static readonly JsonDocumentOptions Forgiving = new() { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true, MaxDepth = 16 };

    /// <summary>Reads the text of a configuration file; null means: as if not given.</summary>
    public static IEnumerable<GivenValue> OfFile(string json, string file, List<string> errors)
    {
        var given = new List<GivenValue>();
        try
        {
            using var document = JsonDocument.Parse(json, Forgiving);
            if (document.RootElement.ValueKind == JsonValueKind.Object)
            {
                Flatten(document.RootElement, string.Empty, file, given);
            }
            else
            {
                errors.Add($"{file}: the configuration is a JSON object, such as {{ \"Page\": {{ \"CellarName\": \"Attic\" }} }}; found is {Kind(document.RootElement)}.");
            }
        }
        catch (JsonException mistake)
        {
            // The library's own words may quote the text, and so a password.
            errors.Add(string.Create(
                CultureInfo.InvariantCulture,
                $"{file}: not valid JSON at line {(mistake.LineNumber ?? 0) + 1}, byte {(mistake.BytePositionInLine ?? 0) + 1}. Comments and a comma behind the last entry are allowed; names and texts stand in double quotes."));
        }
        catch (InvalidOperationException)
        {
            errors.Add($"{file}: a name or text holds half of a surrogate pair (\\ud800 to \\udfff); write the character itself.");
        }

        foreach (var twice in given.GroupBy(value => value.Key, StringComparer.OrdinalIgnoreCase).Where(same => same.Count() > 1))
        {
            errors.Add($"{twice.Key} is given {twice.Count()} times in {file}: give it once.");
        }

        return given;
    }

    /// <summary>Picks the settings out of the environment. An empty variable counts as not given.</summary>
    public static IEnumerable<GivenValue> OfEnvironment(IReadOnlyDictionary<string, string?> environment) =>
        from variable in environment
        where variable.Key.StartsWith(EnvironmentPrefix, StringComparison.OrdinalIgnoreCase) && !string.IsNullOrEmpty(variable.Value)
        orderby variable.Key
        select new GivenValue(
            variable.Key[EnvironmentPrefix.Length..].Replace("__", ":", StringComparison.Ordinal),
            variable.Value,
            $"environment variable {variable.Key}");

    /// <summary>Takes what stood on the command line.</summary>
    public static IEnumerable<GivenValue> OfCommandLine(IReadOnlyDictionary<string, string?> overrides) =>
        from option in overrides
        where option.Value is not null
        orderby option.Key
        select new GivenValue(option.Key, option.Value!, "command line");

    private static void Flatten(JsonElement element, string key, string origin, List<GivenValue> given)
    {
        switch (element.ValueKind)
        {
            case JsonValueKind.Object:
                foreach (var property in element.EnumerateObject())
                {
                    Flatten(property.Value, Below(key, property.Name), origin, given);
                }

                break;
            case JsonValueKind.Array:
                var entry = 0;
                foreach (var item in element.EnumerateArray())
                {
                    // An entry that says nothing would vanish unseen.
                    if (item.ValueKind == JsonValueKind.Object && !item.EnumerateObject().Any())
                    {
                        given.Add(new GivenValue(Below(key, entry.ToString(CultureInfo.InvariantCulture)), string.Empty, origin));
                    }

                    Flatten(item, Below(key, entry.ToString(CultureInfo.InvariantCulture)), origin, given);
                    entry++;
                }

                break;
            case JsonValueKind.Null:
                break;
            default:
                given.Add(new GivenValue(key, element.ValueKind == JsonValueKind.String ? element.GetString()! : element.GetRawText(), origin));
                break;
        }
    }

    private static string Below(string key, string name) => key.Length == 0 ? name : $"{key}:{name}";

    private static string Kind(JsonElement element) => element.ValueKind switch
    {
        JsonValueKind.Array => "a list",
        JsonValueKind.String => "a text",
        JsonValueKind.Number => "a number",
        _ => "a single word",
    };
}
