using System.Text.Json.Nodes;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Service.Api;

/// <summary>Shapes of what is sent and answered, for <see cref="ApiDocument"/>.</summary>
internal static class ApiSchemas
{
    /// <summary>The shapes by name.</summary>
    public static JsonObject All() => new()
    {
        ["Readings"] = Object(["readings"], new JsonObject
        {
            ["sensor"] = Text("Name of the sensor below the device; left out, it is the device's own."),
            ["readings"] = new JsonObject
            {
                ["type"] = "array",
                ["minItems"] = 1,
                ["maxItems"] = ReadingsRequest.MostReadings,
                ["items"] = Object(["quantity", "unit", "value"], new JsonObject
                {
                    ["time"] = Text("When it was taken, with Z or an offset; left out, now counts."),
                    ["quantity"] = Text("Such as gravity, temperature, battery: the words of the settings."),
                    ["unit"] = Text("A unit of that quantity, such as SG, °C, V."),
                    ["value"] = new JsonObject { ["type"] = "number" },
                }),
            },
        }),
        ["Catalog"] = Object(["worksheets"], new JsonObject { ["worksheets"] = new JsonObject { ["type"] = "array", ["items"] = new JsonObject { ["type"] = "object" } } }),
        ["Answer"] = Object(["worksheet", "refused", "results"], new JsonObject
        {
            ["worksheet"] = Text("Its name."),
            ["refused"] = new JsonObject { ["type"] = "boolean", ["description"] = "True where no number would be honest; the notices say why." },
            ["results"] = List("Each with unit, error and validity."),
            ["notices"] = List("What to mind."),
            ["cautions"] = List("Dangers at the point of use."),
            ["sources"] = List("Where the formula is published."),
        }),
        ["Health"] = Object(["ready", "checks"], new JsonObject
        {
            ["ready"] = new JsonObject { ["type"] = "boolean" },
            ["checks"] = new JsonObject
            {
                ["type"] = "array",
                ["items"] = Object(["name", "condition", "says"], new JsonObject
                {
                    ["name"] = Text("broker, storage, judging, readings, outbox, backup, copy."),
                    ["condition"] = new JsonObject { ["type"] = "string", ["enum"] = new JsonArray("ok", "attention", "failing") },
                    ["says"] = Text("Why, in a sentence."),
                }),
            },
        }),
        ["Problem"] = Object(["title", "status", "detail"], new JsonObject
        {
            ["type"] = Text("about:blank [RFC 9457]."),
            ["title"] = Text("The kind of fault."),
            ["status"] = new JsonObject { ["type"] = "integer" },
            ["detail"] = Text("This case: value and what would be right."),
            ["errors"] = List("Faulty fields, each with its JSON Pointer."),
        }),
    };

    /// <summary>An answer that tells a fault.</summary>
    public static JsonObject Fault(string description, string type) => new()
    {
        ["description"] = description,
        ["content"] = new JsonObject { [type] = new JsonObject { ["schema"] = new JsonObject { ["$ref"] = "#/components/schemas/Problem" } } },
    };

    /// <summary>The operation of a worksheet, with its worked examples.</summary>
    public static JsonObject Worksheet(Worksheet sheet, string problem)
    {
        var examples = new JsonObject();
        foreach (var example in sheet.Examples)
        {
            var given = new JsonObject();
            foreach (var field in example.Given)
            {
                given[field.Key] = field.Value;
            }

            examples[$"example-{examples.Count + 1}"] = new JsonObject { ["value"] = given };
        }

        var fields = new JsonObject();
        foreach (var input in sheet.Inputs)
        {
            fields[input.Key] = new JsonObject { ["description"] = $"{input.Label}: {input.Allowed}" };
        }

        return new JsonObject
        {
            ["operationId"] = "worksheet-" + sheet.Name,
            ["summary"] = sheet.Title,
            ["description"] = string.Join(" ", sheet.Cautions.Select(caution => caution.Text).Prepend(sheet.Purpose)),
            ["security"] = new JsonArray(new JsonObject { ["signIn"] = new JsonArray() }),
            ["requestBody"] = new JsonObject
            {
                ["required"] = true,
                ["content"] = new JsonObject
                {
                    ["application/json"] = new JsonObject
                    {
                        ["schema"] = Object([.. sheet.Inputs.Where(input => !input.IsOptional).Select(input => input.Key)], fields),
                        ["examples"] = examples,
                    },
                },
            },
            ["responses"] = new JsonObject
            {
                ["200"] = new JsonObject
                {
                    ["description"] = "Computed, or refused with the reason.",
                    ["content"] = new JsonObject { ["application/json"] = new JsonObject { ["schema"] = new JsonObject { ["$ref"] = "#/components/schemas/Answer" } } },
                },
                ["422"] = Fault("A field cannot be read, named with its range.", problem),
            },
        };
    }

    private static JsonObject Text(string description) => new() { ["type"] = "string", ["description"] = description };

    private static JsonObject List(string description) => new() { ["type"] = "array", ["description"] = description, ["items"] = new JsonObject() };

    private static JsonObject Object(string[] required, JsonObject properties)
    {
        var schema = new JsonObject { ["type"] = "object", ["properties"] = properties };
        if (required.Length > 0)
        {
            schema["required"] = new JsonArray([.. required.Select(name => (JsonNode)name)]);
        }

        return schema;
    }
}
