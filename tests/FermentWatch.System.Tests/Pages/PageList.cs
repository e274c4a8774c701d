using FermentWatch.System.Tests.EndToEnd;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace FermentWatch.System.Tests.Pages;

/// <summary>Every page of the service, from its own routes: a new one is checked without anybody writing it down, and one with a parameter fails until it has an address here.</summary>
internal static class PageList
{
    // Addresses that give no page: files, pictures, data and what programs ask for.
    private static readonly HashSet<string> Files =
    [
        "/assets/{name}", "/push-worker.js", "/health", "/healthz", "/readyz", "/metrics", "/live", "/export.zip", "/calendar/{key}",
        "/batch/{id}/picture.svg", "/batch/{id}/readings.csv", "/batch/{id}/readings.parquet", "/batch/{id}/replay.zip",
        "/batch/{id}/photo/{photo:long}", "/batch/{id}/photo/{photo:long}/small", "/import/{key}/refused.csv",
    ];

    // Of a page with a parameter, or one that somebody else than the maker sees, what the full cellar does not make by itself stands in CellarStage.
    private static readonly Dictionary<string, string[]> Samples = new(StringComparer.Ordinal)
    {
        ["/batch/{id}"] = ["batch/batch-1", "batch/batch-1?part=week", $"batch/batch-1?view=gravity&from={FullCellar.Text(FullCellar.Start.AddDays(-3))}&until={FullCellar.Text(FullCellar.Start.AddDays(-2))}", "batch/batch-2", "batch/batch-3", "batch/batch-4", "batch/none"],
        ["/batch/{id}/table"] = ["batch/batch-1/table", "batch/batch-4/table"],
        ["/batch/{id}/limits"] = ["batch/batch-1/limits"],
        ["/batch/{id}/label"] = ["batch/batch-1/label"],
        ["/batch/{id}/journal/new"] = ["batch/batch-1/journal/new?kind=measured-by-hand", "batch/batch-1/journal/new?kind=stabilized", "batch/batch-1/journal/new?kind=sulfite-added&sulfite=1.6&text=By+the+worksheet", "batch/batch-1/journal/new?kind=bottled"],
        ["/bench/{name}"] = ["bench/sulfite-dose?batch=batch-1", "bench/tannin-powder?batch=batch-1&sent=yes&dose=200&volume=20", "bench/alcohol-from-gravity?sent=yes&original-gravity=109", "bench/restart-plan?sent=yes&volume=20&original-gravity=1.1&present-gravity=1.03&temperature=14"],
        ["/sensors/{name}"] = ["sensors/float-1", "sensors/float-12"],
        ["/trials/new"] = ["trials/new", "trials/new?batch=batch-1"],
        ["/trials/palate/{number}"] = ["trials/palate/7", "trials/palate/7?key"],
        ["/work/{id}"] = ["work/batch-1"],
        ["{*path}"] = ["nowhere/at/all"],
    };

    /// <summary>The routes that give a page, as the service itself has them.</summary>
    public static IReadOnlySet<string> Routes(RunningService service) => service.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
        .Where(endpoint => endpoint.Metadata.GetMetadata<IHttpMethodMetadata>()?.HttpMethods is not { } methods || methods.Contains("GET"))
        .Select(endpoint => endpoint.RoutePattern.RawText!)
        .Where(route => !Files.Contains(route) && !route.StartsWith("/api/v1/", StringComparison.Ordinal))
        .ToHashSet(StringComparer.Ordinal);

    /// <summary>What a maker is shown of every page whose address does not depend on what was done before.</summary>
    /// <param name="routes">Routes of pages.</param>
    /// <param name="staged">Visits that a stage prepared; their routes need no address here.</param>
    /// <exception cref="InvalidOperationException">A route with a parameter has no address.</exception>
    public static IReadOnlyList<PageVisit> Of(IReadOnlySet<string> routes, IReadOnlyList<PageVisit> staged)
    {
        // An empty service shows the same pages once more; its door alone is closed elsewhere.
        var elsewhere = staged.Where(visit => visit.By is not Seer.First || visit.Route == "/setup").Select(visit => visit.Route).ToHashSet(StringComparer.Ordinal);
        return [.. routes.SelectMany(route => Samples.TryGetValue(route, out var samples) ? samples
            : elsewhere.Contains(route) ? []
            : route.Contains('{', StringComparison.Ordinal) ? throw new InvalidOperationException($"The page {route} has no address in PageList or CellarStage, so nothing looks at it.")
            : new[] { route.TrimStart('/') }, (route, address) => new PageVisit(route, address, Seer.Maker)), .. staged];
    }
}

/// <summary>Who looks at a page.</summary>
internal enum Seer
{
    /// <summary>Somebody who signed in as a maker.</summary>
    Maker,

    /// <summary>Somebody whom the service does not know.</summary>
    Stranger,

    /// <summary>A guest who took a place at the tasting, and has a glass still to judge.</summary>
    Guest,

    /// <summary>A guest who judged every glass and put them in order.</summary>
    GuestWhoIsDone,

    /// <summary>Whoever opens a service in which nobody has a password and nothing was ever heard.</summary>
    First,
}

/// <summary>One look at one page.</summary>
/// <param name="Route">Route that gives it.</param>
/// <param name="Address">Its address, relative to the root.</param>
/// <param name="By">Who looks.</param>
internal sealed record PageVisit(string Route, string Address, Seer By);
