using System.Globalization;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Pictures;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard;

/// <summary>The picture of a batch alone, for a chosen range.</summary>
internal static class PictureEndpoint
{
    public static void Map(IEndpointRouteBuilder routes) => routes.MapMethods(
        "/batch/{id}/picture.svg",
        ["GET", "HEAD"],
        (string id, HttpContext context, Board board, Reader reader) =>
        {
            if (board.State.Snapshot.Find(id) is not { } entry)
            {
                return Results.Problem(PageText.Of("picture-no-batch", id), statusCode: StatusCodes.Status404NotFound);
            }

            var query = context.Request.Query;
            var faults = new List<string>();
            var request = new PictureRequest(
                Choice<PictureWidth>(query, "width", faults),
                Choice<CurveKind>(query, "view", faults),
                Choice<CurvePart>(query, "part", faults),
                Time(query, "from", faults),
                Time(query, "until", faults));
            if (faults.Count == 0 && (request.From is null) != (request.Until is null))
            {
                faults.Add(PageText.Of("picture-half-range"));
            }

            if (faults.Count > 0)
            {
                return Results.Problem(string.Join(' ', faults), statusCode: StatusCodes.Status400BadRequest);
            }

            context.Response.Headers.CacheControl = "no-store";
            return CurvePicture.Draw(entry.View, reader, request) is { } svg
                ? Results.Text(StyleSheets(context) + svg, "image/svg+xml", System.Text.Encoding.UTF8)
                : Results.Problem(PageText.Of("picture-nothing"), statusCode: StatusCodes.Status404NotFound);
        });

    /// <summary>The value of a choice by its name in lower case; the first when it is not given.</summary>
    public static T Choice<T>(IQueryCollection query, string field, List<string> faults)
        where T : struct, Enum
    {
        var given = query[field].ToString();
        if (given.Length == 0)
        {
            return default;
        }

        foreach (var name in Enum.GetNames<T>())
        {
            if (string.Equals(name, given, StringComparison.OrdinalIgnoreCase))
            {
                return Enum.Parse<T>(name);
            }
        }

        faults.Add(PageText.Of("picture-wrong-choice", field, given, string.Join(", ", Enum.GetNames<T>().Select(name => name.ToLowerInvariant()))));
        return default;
    }

    /// <summary>A time as an address gives it; null when it gives none or one that is wrong, which is then among the faults.</summary>
    public static EventTime? Time(IQueryCollection query, string field, List<string> faults)
    {
        var given = query[field].ToString();
        if (given.Length == 0)
        {
            return null;
        }

        if (DateTimeOffset.TryParse(given, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var time))
        {
            return EventTime.From(time);
        }

        faults.Add(PageText.Of("picture-wrong-time", field, given));
        return null;
    }

    private static string StyleSheets(HttpContext context)
    {
        var up = Visit.UpFrom(context.Request.Path);
        return $"<?xml-stylesheet href=\"{up}{AssetFiles.Address("tokens.css")}\"?><?xml-stylesheet href=\"{up}{AssetFiles.Address("look.css")}\"?>";
    }
}
