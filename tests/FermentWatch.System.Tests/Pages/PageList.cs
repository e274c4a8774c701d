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

    // A door is closed once somebody has a password; a link of a notice and an invitation live in their own tests.
    private static readonly HashSet<string> Elsewhere = ["/setup", "/invitation/{code}", "/act/{token}", "/import/{key}", "/batch/{id}/journal/{entry:long}/correct", "/batch/{id}/edit", "/sign-in"];

    // A guest's glasses want a place at the table: TrialFlowTests walks them.
    private static readonly Dictionary<string, string[]> Samples = new(StringComparer.Ordinal)
    {
        ["/batch/{id}"] = ["batch/batch-1", "batch/batch-1?part=week", $"batch/batch-1?view=gravity&from={FullCellar.Text(FullCellar.Start.AddDays(-3))}&until={FullCellar.Text(FullCellar.Start.AddDays(-2))}", "batch/batch-2", "batch/batch-3", "batch/batch-4", "batch/none"],
        ["/batch/{id}/table"] = ["batch/batch-1/table", "batch/batch-4/table"],
        ["/batch/{id}/limits"] = ["batch/batch-1/limits"],
        ["/batch/{id}/label"] = ["batch/batch-1/label"],
        ["/batch/{id}/journal/new"] = ["batch/batch-1/journal/new?kind=measured-by-hand", "batch/batch-1/journal/new?kind=stabilized", "batch/batch-1/journal/new?kind=sulfite-added&sulfite=1.6&text=By+the+worksheet", "batch/batch-1/journal/new?kind=bottled"],
        ["/bench/{name}"] = ["bench/sulfite-dose?batch=batch-1", "bench/tannin-powder?batch=batch-1&sent=yes&dose=200&volume=20", "bench/alcohol-from-gravity?sent=yes&original-gravity=109", "bench/restart-plan?sent=yes&volume=20&original-gravity=1.1&present-gravity=1.03&temperature=14"],
        ["/sensors/{name}"] = ["sensors/float-1", "sensors/float-12"],
        ["/tasting/{code}"] = ["tasting/" + FullCellar.GuestCode],
        ["/tasting/{code}/glass/{glass}"] = [],
        ["/tasting/{code}/order"] = [],
        ["/tasting/{code}/done"] = [],
        ["/trials/new"] = ["trials/new", "trials/new?batch=batch-1"],
        ["/trials/palate/{number}"] = ["trials/palate/7", "trials/palate/7?key"],
        ["/trials/{trial:long}"] = ["trials/1"],
        ["/trials/{trial:long}/tasting"] = ["trials/1/tasting"],
        ["/trials/{trial:long}/paper"] = ["trials/1/paper"],
        ["/trials/{trial:long}/sheet"] = ["trials/1/sheet?taster=Wren"],
        ["/trials/{trial:long}/result"] = ["trials/1/result"],
        ["/trials/{trial:long}/scale"] = ["trials/1/scale"],
        ["/work/{id}"] = ["work/batch-1"],
        ["{*path}"] = ["nowhere/at/all"],
    };

    /// <summary>Addresses of all pages, relative to the root.</summary>
    /// <exception cref="InvalidOperationException">A route with a parameter has no address here.</exception>
    public static IReadOnlyList<string> Of(RunningService service)
    {
        var addresses = new List<string>();
        foreach (var endpoint in service.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>())
        {
            var route = endpoint.RoutePattern.RawText!;
            var methods = endpoint.Metadata.GetMetadata<IHttpMethodMetadata>()?.HttpMethods;
            if ((methods is not null && !methods.Contains("GET")) || Files.Contains(route) || Elsewhere.Contains(route) || route.StartsWith("/api/v1/", StringComparison.Ordinal))
            {
                continue;
            }

            if (Samples.TryGetValue(route, out var samples))
            {
                addresses.AddRange(samples);
            }
            else if (route.Contains('{', StringComparison.Ordinal))
            {
                throw new InvalidOperationException($"The page {route} has no address in PageList, so nothing looks at it.");
            }
            else
            {
                addresses.Add(route.TrimStart('/'));
            }
        }

        return [.. addresses.Distinct(StringComparer.Ordinal)];
    }
}
