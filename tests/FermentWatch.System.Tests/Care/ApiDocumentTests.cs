using System.Net;
using System.Text;
using System.Text.Json.Nodes;
using FermentWatch.System.Tests.Access;
using FermentWatch.System.Tests.EndToEnd;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace FermentWatch.System.Tests.Care;

/// <summary>The document is held against the service that it describes: every address, every example.</summary>
public sealed class ApiDocumentTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task EveryExampleThatIsSent_IsAnsweredAsTheDocumentSays()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var client = new HttpClient { BaseAddress = service.Page };
        var document = JsonNode.Parse(await client.GetStringAsync("api/v1/openapi.json", Stop))!;
        Assert.Equal("3.1.1", (string?)document["openapi"]);
        using var visitor = await Visitor.FirstMakerAsync(service);
        using var made = await visitor.SendAsync("devices", "devices", ("do", "add"), ("name", "float-1"));
        visitor.Client.DefaultRequestHeaders.Add("X-Api-Key", Visitor.Made(await made.Content.ReadAsStringAsync(Stop)));
        var sent = 0;
        foreach (var (path, operations) in document["paths"]!.AsObject())
        {
            if (operations!["post"] is not { } operation)
            {
                continue;
            }

            var content = operation["requestBody"]!["content"]!["application/json"]!;
            var examples = content["examples"] is JsonObject several ? several.Select(pair => pair.Value!["value"]!) : [content["example"]!];
            foreach (var example in examples)
            {
                using var body = new StringContent(example.ToJsonString(), Encoding.UTF8, "application/json");
                using var answer = await visitor.Client.PostAsync(path[1..], body, Stop);
                Assert.True(answer.StatusCode is HttpStatusCode.OK or HttpStatusCode.Accepted, $"{path}: {answer.StatusCode} {await answer.Content.ReadAsStringAsync(Stop)}");
                Assert.True(operation["responses"]![$"{(int)answer.StatusCode}"] is not null, $"{path}: {answer.StatusCode} is not told of.");
                sent++;
            }
        }

        Assert.True(sent > 40, $"Only {sent} examples.");
    }

    [Fact]
    public async Task EveryAddress_IsThereAndEveryOperationHasANameOfItsOwn()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var client = new HttpClient { BaseAddress = service.Page };
        var document = JsonNode.Parse(await client.GetStringAsync("api/v1/openapi.json", Stop))!;
        var routes = service.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>().Select(endpoint => endpoint.RoutePattern.RawText).ToHashSet();
        var names = new List<string>();
        foreach (var (path, operations) in document["paths"]!.AsObject())
        {
            Assert.True(routes.Contains(path) || (path.StartsWith("/api/v1/worksheets/", StringComparison.Ordinal) && routes.Contains("/api/v1/worksheets/{name}")), $"{path} is no address.");
            names.AddRange(operations!.AsObject().Select(operation => (string)operation.Value!["operationId"]!));
        }

        Assert.Equal(names.Count, names.Distinct().Count());
        // Whatever begins with /api/v1 is told of.
        Assert.All(routes.Where(route => route!.StartsWith("/api/v1/", StringComparison.Ordinal) && route is not ("/api/v1/openapi.json" or "/api/v1/worksheets/{name}")), route => Assert.NotNull(document["paths"]![route!]));
        foreach (var reference in document.ToJsonString().Split("\"$ref\":\"#/components/schemas/")[1..])
        {
            Assert.NotNull(document["components"]!["schemas"]![reference[..reference.IndexOf('"', StringComparison.Ordinal)]]);
        }
    }

    [Fact]
    public async Task ReferencePage_ShowsEveryPath()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        using var client = new HttpClient { BaseAddress = service.Page };
        var document = JsonNode.Parse(await client.GetStringAsync("api/v1/openapi.json", Stop))!;
        // A path may break at its slashes.
        var html = WebUtility.HtmlDecode(await client.GetStringAsync("api", Stop)).Replace("<wbr>", string.Empty, StringComparison.Ordinal);
        Assert.All(document["paths"]!.AsObject(), path => Assert.Contains(path.Key + ".", html, StringComparison.Ordinal));
        Assert.DoesNotContain("<script>", html, StringComparison.Ordinal);
        Assert.DoesNotContain("style=\"", html, StringComparison.Ordinal);
    }
}
