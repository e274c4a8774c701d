using FermentWatch.Service.Dashboard;

namespace FermentWatch.Service.Personal;

/// <summary>The service worker that shows pushed notices. At the root of the pages, since a worker is in charge of what lies below its own address.</summary>
public static class PushWorker
{
    /// <summary>Address from the root of the pages.</summary>
    public const string Path = "push-worker.js";

    internal static void Map(WebApplication app) => app.MapMethods("/" + Path, ["GET", "HEAD"], (HttpContext context) =>
    {
        // Asked for by the browser itself, at its own times: it must see a new one.
        context.Response.Headers.CacheControl = "no-cache";
        return Results.Bytes(AssetFiles.Content(Path), "text/javascript; charset=utf-8");
    });
}
