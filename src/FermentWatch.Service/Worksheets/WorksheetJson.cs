using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Service.Worksheets;

/// <summary>Worksheets as JSON, the same for command and API.</summary>
internal static class WorksheetJson
{
    /// <summary>Readable by people too: indented, letters as they are.</summary>
    public static JsonSerializerOptions Readable { get; } = new() { WriteIndented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>The whole catalogue.</summary>
    public static JsonObject Catalog() => new() { ["worksheets"] = Array(WorksheetCatalog.All, Entry) };

    /// <summary>One entry: fields, results, sources, cautions, examples.</summary>
    public static JsonObject Entry(Worksheet sheet) => new()
    {
        ["name"] = sheet.Name,
        ["subject"] = Code(sheet.Subject),
        ["title"] = sheet.Title,
        ["purpose"] = sheet.Purpose,
        ["inputs"] = Array(sheet.Inputs, Input),
        ["outputs"] = Array(sheet.Outputs, Output),
        ["sources"] = Sources(sheet),
        ["cautions"] = Cautions(sheet),
        ["examples"] = Array(sheet.Examples, Example),
    };

    /// <summary>What a run gave. A refusal has no results and says why in its notices.</summary>
    public static JsonObject Answer(Worksheet sheet, WorksheetAnswer answer) => new()
    {
        ["worksheet"] = sheet.Name,
        ["refused"] = answer.IsRefusal,
        ["results"] = Array(answer.Results, Result),
        ["notices"] = Array(answer.Notices, notice => new JsonObject { ["weight"] = Code(notice.Weight), ["code"] = notice.Code, ["text"] = notice.Text }),
        ["cautions"] = Cautions(sheet),
        ["sources"] = Sources(sheet),
    };

    /// <summary>Fields as text, from a JSON object: numbers, strings, true and false, lists of numbers.</summary>
    /// <param name="json">The object.</param>
    /// <param name="faults">Fields of another kind are added here.</param>
    public static Dictionary<string, string> Fields(JsonElement json, List<InputFault> faults)
    {
        var fields = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var field in json.EnumerateObject())
        {
            if (Text(field.Value) is { } text)
            {
                fields[field.Name] = text;
            }
            else
            {
                faults.Add(new InputFault(field.Name, field.Value.GetRawText(), $"{field.Name} must be a number, a string, true, false or a list of numbers."));
            }
        }

        return fields;
    }

    private static string? Text(JsonElement value) => value.ValueKind switch
    {
        JsonValueKind.Number => value.GetRawText(),
        JsonValueKind.String => value.GetString(),
        JsonValueKind.True => "yes",
        JsonValueKind.False => "no",
        JsonValueKind.Null => string.Empty,
        JsonValueKind.Array when value.EnumerateArray().All(one => one.ValueKind is JsonValueKind.Number or JsonValueKind.String) =>
            string.Join(";", value.EnumerateArray().Select(one => one.ValueKind is JsonValueKind.Number ? one.GetRawText() : one.GetString())),
        _ => null,
    };

    private static JsonObject Input(WorksheetInput input)
    {
        var json = new JsonObject { ["name"] = input.Key, ["label"] = input.Label, ["required"] = !input.IsOptional, ["allowed"] = input.Allowed };
        switch (input)
        {
            case NumberInput number:
                Measure(json, "number", number.Kind, number.Low, number.High);
                break;
            case NumberListInput list:
                Measure(json, "numbers", list.Kind, list.Low, list.High);
                (json["fewest"], json["most"]) = (list.Fewest, list.Most);
                break;
            case ChoiceInput choice:
                json["type"] = choice is YesNoInput ? "yes-no" : "choice";
                json["choices"] = Array(choice.Choices, one => new JsonObject { ["name"] = one.Code, ["label"] = one.Label });
                break;
        }

        if (input.UsualText is { } usual)
        {
            json["default"] = input is NumberInput { Usual: { } value } ? value : usual;
        }

        if (input.Help is { } help)
        {
            json["help"] = help;
        }

        return json;
    }

    private static void Measure(JsonObject json, string type, QuantityKind kind, double low, double high)
    {
        json["type"] = type;
        json["kind"] = kind.Name;
        json["unit"] = kind.Symbol;
        json["units"] = Array(kind.Units.Where(unit => unit.Symbol.Length > 0), unit => unit.Symbol);
        json["lowest"] = low;
        json["highest"] = high;
    }

    private static JsonObject Output(WorksheetOutput output)
    {
        var json = new JsonObject { ["name"] = output.Key, ["label"] = output.Label };
        (json["type"], var kind) = output switch
        {
            NumberOutput number => ("number", number.Kind),
            NumberListOutput list => ("numbers", list.Kind),
            _ => ("text", null),
        };
        if (kind is not null)
        {
            (json["kind"], json["unit"]) = (kind.Name, kind.Symbol);
        }

        return json;
    }

    private static JsonObject Result(WorksheetResult result)
    {
        var json = Output(result.Output);
        switch (result)
        {
            case NumberResult number:
                json["value"] = number.Value;
                json["shown"] = number.Value.ToString("F" + number.Number.Digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
                json["tolerance"] = number.Tolerance;
                json["withinSource"] = number.Validity is Validity.WithinSource;
                break;
            case NumberListResult list:
                json["values"] = Array(list.Values, value => value);
                break;
            case TextResult text:
                json["lines"] = Array(text.Lines, line => line);
                break;
        }

        return json;
    }

    private static JsonObject Example(WorkedExample example) => new()
    {
        ["given"] = new JsonObject(example.Given.Select(field => KeyValuePair.Create(field.Key, (JsonNode?)field.Value))),
        ["expected"] = Array(example.Expected, expected => expected.Text is { } text
            ? new JsonObject { ["name"] = expected.Key, ["text"] = text }
            : new JsonObject { ["name"] = expected.Key, ["value"] = expected.Value, ["tolerance"] = expected.Tolerance }),
        ["expectedNotices"] = Array(example.ExpectedNotices, code => code),
        ["source"] = example.Source,
    };

    private static JsonArray Sources(Worksheet sheet) => Array(sheet.Sources, source => new JsonObject
    {
        ["standing"] = Code(source.Standing),
        ["key"] = source.Key,
        ["text"] = source.Text,
    });

    private static JsonArray Cautions(Worksheet sheet) => Array(sheet.Cautions, caution => new JsonObject { ["code"] = caution.Code, ["text"] = caution.Text });

    private static JsonArray Array<T>(IEnumerable<T> items, Func<T, JsonNode?> show) => [.. items.Select(show)];

    private static string Code<T>(T value)
        where T : struct, Enum => JsonNamingPolicy.KebabCaseLower.ConvertName(value.ToString());
}
