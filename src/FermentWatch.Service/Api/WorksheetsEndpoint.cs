using System.Text.Json;
using System.Text.Json.Nodes;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Worksheets;

namespace FermentWatch.Service.Api;

/// <summary>The catalogue of worksheets over HTTP. Nothing is stored: a worksheet is a function of what it is given.</summary>
internal static class WorksheetsEndpoint
{
    /// <summary>The address of the catalogue.</summary>
    public const string Route = "/api/v1/worksheets";

    /// <summary>The address of one worksheet.</summary>
    public const string OneRoute = Route + "/{name}";

    /// <summary>Largest body. [bytes]</summary>
    public const int LargestBody = 16 * 1024;

    public static void Map(WebApplication app)
    {
        app.MapMethods(Route, ["GET", "HEAD"], () => Json(WorksheetJson.Catalog()));
        app.MapMethods(OneRoute, ["GET", "HEAD"], (string name) => WorksheetCatalog.Find(name) is { } sheet ? Json(WorksheetJson.Entry(sheet)) : Unknown(name));
        app.MapPost(OneRoute, ComputeAsync).DisableAntiforgery();
    }

    private static async Task<IResult> ComputeAsync(HttpContext context, string name)
    {
        if (WorksheetCatalog.Find(name) is not { } sheet)
        {
            return Unknown(name);
        }

        if (await BoundedBody.ReadAsync(context.Request, LargestBody, context.RequestAborted) is not { } body)
        {
            return ApiProblem.Of(413, "Too large", $"The body may have at most {LargestBody} bytes.");
        }

        var faults = new List<InputFault>();
        Dictionary<string, string> fields;
        try
        {
            using var json = JsonDocument.Parse(body, new JsonDocumentOptions { MaxDepth = 4, AllowDuplicateProperties = false });
            if (json.RootElement.ValueKind is not JsonValueKind.Object)
            {
                return ApiProblem.Of(422, "Not an object", "Give the fields as an object, such as {\"volume\": 20}.");
            }

            fields = WorksheetJson.Fields(json.RootElement, faults);
        }
        catch (JsonException mistake)
        {
            return ApiProblem.Of(422, "Not JSON", FormattableString.Invariant($"The body is not JSON with each field once, from line {mistake.LineNumber + 1}, byte {mistake.BytePositionInLine + 1} on."));
        }
        catch (InvalidOperationException)
        {
            return ApiProblem.Of(422, "Not text", "A string holds half of a character, such as \\ud83c alone: write it in full.");
        }

        var outcome = sheet.Run(fields);
        faults.AddRange(outcome.Faults);
        return faults.Count == 0 && outcome.Answer is { } answer
            ? Json(WorksheetJson.Answer(sheet, answer))
            : ApiProblem.Of(422, "Not computed", "Correct the fields named in 'errors'.", [.. faults.Select(fault => new FieldProblem("/" + fault.Field, fault.Value, fault.Sentence))]);
    }

    private static IResult Unknown(string name) =>
        ApiProblem.Of(404, "No such worksheet", $"There is no worksheet '{(name.Length > 60 ? name[..60] + "…" : name)}'; GET {Route} lists them.");

    private static IResult Json(JsonObject json) => Results.Text(json.ToJsonString(WorksheetJson.Readable), "application/json");
}
