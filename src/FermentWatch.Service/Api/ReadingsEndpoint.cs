using System.Text.Json;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Access;
using FermentWatch.Service.Pipeline;

namespace FermentWatch.Service.Api;

/// <summary>Readings over HTTP, for devices that do not speak MQTT. The answer 202 means that they are on disk.</summary>
/// <remarks>Faults are told as problem details [RFC 9457], every faulty field with its JSON Pointer, its value and what would be right.</remarks>
internal static class ReadingsEndpoint
{
    /// <summary>The address.</summary>
    public const string Route = "/api/v1/readings";

    /// <summary>Largest body. [bytes]</summary>
    public const int LargestBody = 64 * 1024;

    public static void Map(WebApplication app) => app.MapPost(Route, TakeAsync).DisableAntiforgery();

    private static async Task<IResult> TakeAsync(HttpContext context, AccessBook book, ReadingsLimit limit, Store store, PipelineSignals signals, TimeProvider clock)
    {
        var stop = context.RequestAborted;
        if (!limit.Admits(context.Connection.RemoteIpAddress))
        {
            context.Response.Headers.RetryAfter = "60";
            return ApiProblem.Of(429, "Too many requests", $"At most {ReadingsLimit.RequestsOfAnAddress} requests a minute are taken from one address; a request may hold {ReadingsRequest.MostReadings} readings.");
        }

        if (KeyOf(context.Request) is not { Length: > 0 } key || book.DeviceWith(key) is not { } device)
        {
            context.Response.Headers.WWWAuthenticate = "Bearer";
            return ApiProblem.Of(401, "Unknown key", "Give the key of a device in the header 'Authorization: Bearer KEY' or 'X-Api-Key: KEY'. Keys are made on the page of devices.");
        }

        if (await BoundedBody.ReadAsync(context.Request, LargestBody, stop) is not { } body)
        {
            return ApiProblem.Of(413, "Too large", $"The body may have at most {LargestBody} bytes: send the readings in several requests.");
        }

        JsonDocument json;
        try
        {
            json = JsonDocument.Parse(body, new JsonDocumentOptions { MaxDepth = 16 });
        }
        catch (JsonException mistake)
        {
            return ApiProblem.Of(422, "Not JSON", FormattableString.Invariant($"The body is not JSON from line {mistake.LineNumber + 1}, byte {mistake.BytePositionInLine + 1} on."));
        }

        using (json)
        {
            var problems = new List<FieldProblem>();
            string topic;
            IReadOnlyList<byte[]> payloads;
            try
            {
                (topic, payloads) = ReadingsRequest.Read(json.RootElement, device.Name, problems);
            }
            catch (InvalidOperationException)
            {
                return ApiProblem.Of(422, "Not text", "A string holds half of a character, such as \\ud83c alone: write it in full.");
            }

            if (problems.Count > 0)
            {
                return ApiProblem.Of(422, "Not recorded", "Nothing was recorded: correct the fields named in 'errors' and send it again.", problems);
            }

            var at = ReceivedAt.From(clock.GetUtcNow());
            try
            {
                await store.RecordTogetherAsync([.. payloads.Select(payload => new InboundMessage(topic, payload, payload.Length, at, "http/" + device.Name, 0, false, false))], stop);
            }
            catch (StorageUnavailableException)
            {
                context.Response.Headers.RetryAfter = "30";
                return ApiProblem.Of(503, "Storage not available", "Nothing was recorded: keep the readings and send them again.");
            }

            signals.Inbox.Set();
            return Results.Json(new { recorded = payloads.Count }, statusCode: StatusCodes.Status202Accepted);
        }
    }

    private static string? KeyOf(HttpRequest request)
    {
        const string Bearer = "Bearer ";
        var authorization = request.Headers.Authorization.ToString();
        return authorization.StartsWith(Bearer, StringComparison.OrdinalIgnoreCase) ? authorization[Bearer.Length..].Trim() : request.Headers["X-Api-Key"].ToString();
    }
}
