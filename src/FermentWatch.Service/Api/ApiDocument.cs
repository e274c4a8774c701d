using System.Text.Json.Nodes;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Care;

namespace FermentWatch.Service.Api;

/// <summary>What can be asked of the service over HTTP, as an OpenAPI document [OpenAPI Specification 3.1.1]. Worksheets come from their catalogue.</summary>
internal static class ApiDocument
{
    /// <summary>Its address.</summary>
    public const string Route = "/api/v1/openapi.json";

    private const string Json = "application/json";
    private const string Problem = "application/problem+json";

    /// <summary>Builds it.</summary>
    public static JsonObject Build() => new()
    {
        ["openapi"] = "3.1.1",
        ["info"] = new JsonObject
        {
            ["title"] = "FermentWatch",
            ["version"] = typeof(ApiDocument).Assembly.GetName().Version?.ToString(3),
            ["description"] = "Readings in, worksheets, exports, events and health. Forecasts and worksheets are aids: measure by hand before stabilizing or bottling, and follow local law and the packet.",
            ["license"] = new JsonObject { ["name"] = "MIT", ["identifier"] = "MIT" },
        },
        // Relative to this document, so that it holds below a path of a proxy too.
        ["servers"] = new JsonArray(new JsonObject { ["url"] = "../.." }),
        ["paths"] = Paths(),
        ["components"] = new JsonObject
        {
            ["securitySchemes"] = new JsonObject
            {
                ["deviceKey"] = new JsonObject { ["type"] = "http", ["scheme"] = "bearer", ["description"] = "Key of a device, made on the page of devices." },
                ["deviceKeyHeader"] = new JsonObject { ["type"] = "apiKey", ["in"] = "header", ["name"] = "X-Api-Key" },
                ["signIn"] = new JsonObject { ["type"] = "apiKey", ["in"] = "cookie", ["name"] = "fermentwatch-sign-in", ["description"] = "What a browser holds after signing in; nothing is asked for while nobody has a password." },
                ["metricsToken"] = new JsonObject { ["type"] = "http", ["scheme"] = "bearer", ["description"] = "The token of Metrics:Token." },
            },
            ["schemas"] = ApiSchemas.All(),
        },
    };

    private static JsonObject Paths()
    {
        var paths = new JsonObject
        {
            [ReadingsEndpoint.Route] = Post(Readings()),
            [WorksheetsEndpoint.Route] = Get("worksheets", "The catalogue of worksheets", Json, "#/components/schemas/Catalog", SignIn()),
            ["/live"] = Get("live", "Which part of the pages has a new version, as server-sent events", "text/event-stream", null, SignIn(), "event: message\ndata: batch/heather 1796031948525\n\nevent: ping\ndata:\n\n",
                "Each event's data is a topic ('book', 'alerts', 'messages', or 'batch/' and a key) and its version, a whole number that differs from every earlier one; first every topic with its present version. Events named 'ping' keep the connection open. Ask again for what you show when its version is new."),
            ["/batch/{id}/readings.csv"] = Get("readingsOfBatch", "Readings of a batch with what was said about each", "text/csv", null, SignIn(), parameter: "id"),
            ["/batch/{id}/readings.parquet"] = Get("readingsOfBatchAsParquet", "Readings of a batch as Apache Parquet, times in UTC", "application/vnd.apache.parquet", null, SignIn(), parameter: "id"),
            ["/batch/{id}/replay.zip"] = Get("replayOfBatch", "A batch as a folder for replays", "application/zip", null, SignIn(), parameter: "id"),
            ["/export.zip"] = Get("export", "Everything but people, devices, channels and raw messages", "application/zip", null, SignIn()),
            [CareHosting.Alive] = Get("alive", "Whether the process answers", "text/plain", null, new JsonArray(), "alive"),
            [CareHosting.Ready] = Ready(),
            [CareHosting.Metrics] = Get("metrics", "Counts and conditions for a collector, in the text format of Prometheus", "text/plain", null, new JsonArray(new JsonObject { ["metricsToken"] = new JsonArray() })),
        };
        foreach (var sheet in WorksheetCatalog.All)
        {
            paths[$"{WorksheetsEndpoint.Route}/{sheet.Name}"] = Post(ApiSchemas.Worksheet(sheet, Problem));
        }

        return paths;
    }

    private static JsonArray SignIn() => new(new JsonObject { ["signIn"] = new JsonArray() });

    private static JsonObject Post(JsonObject operation) => new() { ["post"] = operation };

    private static JsonObject Get(string id, string summary, string type, string? schema, JsonArray security, string? example = null, string? description = null, string? parameter = null)
    {
        var content = new JsonObject { ["schema"] = schema is null ? new JsonObject { ["type"] = "string" } : new JsonObject { ["$ref"] = schema } };
        if (example is not null)
        {
            content["example"] = example;
        }

        var operation = new JsonObject
        {
            ["operationId"] = id,
            ["summary"] = summary,
            ["security"] = security,
            ["responses"] = new JsonObject { ["200"] = new JsonObject { ["description"] = summary, ["content"] = new JsonObject { [type] = content } } },
        };
        if (description is not null)
        {
            operation["description"] = description;
        }

        if (parameter is not null)
        {
            operation["parameters"] = new JsonArray(new JsonObject
            {
                ["name"] = parameter,
                ["in"] = "path",
                ["required"] = true,
                ["schema"] = new JsonObject { ["type"] = "string" },
                ["example"] = "heather",
                ["description"] = "Key of the batch.",
            });
            ((JsonObject)operation["responses"]!)["404"] = new JsonObject { ["description"] = "No such batch." };
        }

        return new JsonObject { ["get"] = operation };
    }

    private static JsonObject Ready()
    {
        var ready = Get("ready", "Whether the service can do its work, part by part with the reason", Json, "#/components/schemas/Health", new JsonArray());
        ((JsonObject)ready["get"]!["responses"]!)["503"] = new JsonObject
        {
            ["description"] = "Some part is failing.",
            ["content"] = new JsonObject { [Json] = new JsonObject { ["schema"] = new JsonObject { ["$ref"] = "#/components/schemas/Health" } } },
        };
        return ready;
    }

    private static JsonObject Readings() => new()
    {
        ["operationId"] = "sendReadings",
        ["summary"] = "Readings of a device that does not speak MQTT",
        ["description"] = "202 means that they are on disk. A fault in any field leaves all of them out.",
        ["security"] = new JsonArray(new JsonObject { ["deviceKey"] = new JsonArray() }, new JsonObject { ["deviceKeyHeader"] = new JsonArray() }),
        ["requestBody"] = new JsonObject
        {
            ["required"] = true,
            ["content"] = new JsonObject
            {
                [Json] = new JsonObject
                {
                    ["schema"] = new JsonObject { ["$ref"] = "#/components/schemas/Readings" },
                    ["example"] = new JsonObject
                    {
                        ["readings"] = new JsonArray(new JsonObject { ["time"] = "2026-11-25T08:15:00Z", ["quantity"] = "gravity", ["unit"] = "SG", ["value"] = 1.0421 }),
                    },
                },
            },
        },
        ["responses"] = new JsonObject
        {
            ["202"] = new JsonObject { ["description"] = "The readings are on disk." },
            ["401"] = ApiSchemas.Fault("Unknown key.", Problem),
            ["413"] = ApiSchemas.Fault("Too large: send them in several requests.", Problem),
            ["422"] = ApiSchemas.Fault("Not readable, field by field.", Problem),
            ["429"] = ApiSchemas.Fault("Too many requests: wait as long as Retry-After says.", Problem),
        },
    };
}
