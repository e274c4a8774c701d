using System.Diagnostics;
using System.Globalization;
using System.Net;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace FermentWatch.Benchmarks.Pages;

/// <summary>Time from asking for a page to its last byte, compressed, on this machine: the median and the 95th percentile of each page, over a store with many batches. Reported, never asserted.</summary>
internal static class PagesFigure
{
    /// <summary>What a page should take at most, 95 times in 100. [ms]</summary>
    private const double Bar = 200;

    // Addresses that give no page.
    private static readonly HashSet<string> Files =
        ["/assets/{name}", "/push-worker.js", "/health", "/healthz", "/readyz", "/metrics", "/live", "/export.zip", "/calendar/{key}", "{*path}"];

    /// <summary>pages [--batches N] [--times T] [--seed S]: asks for every page T times after three that do not count.</summary>
    public static async Task<int> RunAsync(string[] arguments)
    {
        int? Option(string name, int otherwise) => Array.IndexOf(arguments, name) is not (>= 0 and var at) ? otherwise
            : at + 1 < arguments.Length && int.TryParse(arguments[at + 1], NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number > 0 ? number : null;
        if (Option("--batches", 100) is not { } batches || Option("--times", 40) is not { } times || Option("--seed", 1) is not { } seed)
        {
            await Console.Error.WriteLineAsync("pages [--batches N] [--times T] [--seed S], each a whole number from 1");
            return 2;
        }

        await using var cellar = await LoadedCellar.StartAsync(batches, seed, Console.Out);
        using var handler = new SocketsHttpHandler { AllowAutoRedirect = false, AutomaticDecompression = DecompressionMethods.None };
        using var client = new HttpClient(handler) { BaseAddress = cellar.Page };
        client.DefaultRequestHeaders.Add("Accept-Encoding", "br, gzip");
        Console.WriteLine($"{"page",-62}{"median ms",10}{"P95 ms",9}{"kB sent",9}");
        var slow = 0;
        var all = new List<double>();
        foreach (var page in Pages(cellar.Services, batches))
        {
            using var first = await client.GetAsync(page);
            if (first.StatusCode != HttpStatusCode.OK)
            {
                Console.WriteLine($"{page,-62}answers {(int)first.StatusCode}, no page");
                continue;
            }

            var (taken, bytes) = await AskAsync(client, page, times);
            all.AddRange(taken);
            slow += Quantile(taken, 0.95) > Bar ? 1 : 0;
            Console.WriteLine(FormattableString.Invariant($"{page,-62}{Quantile(taken, 0.5),10:0.0}{Quantile(taken, 0.95),9:0.0}{bytes / 1000.0,9:0.0}{(Quantile(taken, 0.95) > Bar ? "  slower than 200 ms" : "")}"));
        }

        Console.WriteLine(FormattableString.Invariant($"all pages: median {Quantile(all, 0.5):0.0} ms, P95 {Quantile(all, 0.95):0.0} ms; {slow} slower than {Bar:0} ms at P95; {batches} batches, {cellar.Readings} readings, seed {seed}"));
        return 0;
    }

    private static async Task<(List<double> Taken, long Bytes)> AskAsync(HttpClient client, string page, int times)
    {
        var taken = new List<double>(times);
        var bytes = 0L;
        for (var i = -3; i < times; i++)
        {
            var begun = Stopwatch.GetTimestamp();
            using var answer = await client.GetAsync(page);
            bytes = (await answer.Content.ReadAsByteArrayAsync()).LongLength;
            if (answer.StatusCode != HttpStatusCode.OK)
            {
                throw new InvalidOperationException($"{page} answered {(int)answer.StatusCode}.");
            }

            if (i >= 0)
            {
                taken.Add(Stopwatch.GetElapsedTime(begun).TotalMilliseconds);
            }
        }

        return (taken, bytes);
    }

    // Every route of a page that needs nobody's act before it: of the batch's own pages those of an old one and a young one.
    private static IEnumerable<string> Pages(IServiceProvider services, int batches)
    {
        foreach (var endpoint in services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>())
        {
            var route = endpoint.RoutePattern.RawText!;
            if (endpoint.Metadata.GetMetadata<IHttpMethodMetadata>()?.HttpMethods is not { } methods || !methods.Contains("GET") || Files.Contains(route) || route.StartsWith("/api/v1/", StringComparison.Ordinal))
            {
                continue;
            }

            if (!route.Contains('{', StringComparison.Ordinal))
            {
                yield return route.TrimStart('/');
            }
        }

        foreach (var key in new[] { LoadedCellar.KeyOf(0), LoadedCellar.KeyOf(Math.Min(batches - 1, 30)) })
        {
            yield return "batch/" + key;
            yield return "batch/" + key + "?part=week";
            yield return "batch/" + key + "/table";
            yield return "batch/" + key + "/limits";
            yield return "batch/" + key + "/journal/new?kind=measured-by-hand";
            yield return "work/" + key;
            yield return "bench/sulfite-dose?batch=" + key;
            yield return "bench/nutrient-marks?batch=" + key;
            yield return "trials/new?batch=" + key;
            yield return "sensors/float-" + key.Split('-')[^1];
        }
    }

    private static double Quantile(List<double> values, double share)
    {
        var sorted = values.Order().ToList();
        return sorted[Math.Clamp((int)Math.Ceiling(share * sorted.Count) - 1, 0, sorted.Count - 1)];
    }
}
