using System.Net;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using FermentWatch.System.Tests.Mqtt;
using Xunit;

namespace FermentWatch.System.Tests.EndToEnd;

/// <summary>Follows every link of the whole service, at the root and below a base path.</summary>
public sealed partial class EveryLinkTests
{
    [Theory]
    [InlineData("")]
    [InlineData("/cellar")]
    public async Task EveryLinkOnEveryPage_LeadsSomewhere(string pathBase)
    {
        await using var service = await RunningService.StartAsync(file =>
        {
            file["Page"]!["PathBase"] = pathBase;
            file["Topics"] = new JsonArray(RunningService.Topic("cellar/one", "float 1", null, ("/gravity", "gravity", "SG"), ("/celsius", "temperature", "°C")));
            file["Batches"] = new JsonArray(new JsonObject
            {
                ["Id"] = "sloe",
                ["Name"] = "Sloe & rose",
                ["Kind"] = "wine",
                ["Inoculated"] = "2026-10-06T05:00:00Z",
                ["OriginalGravity"] = 1.090,
                ["Sensors"] = new JsonArray(new JsonObject { ["Sensor"] = "float 1" }),
            });
        });
        var (exit, complaint) = await Mosquitto.PublishAsync(service.BrokerPort, "-q", "1", "-t", "cellar/one", "-m", "{\"gravity\":1.0812,\"celsius\":20.5}");
        Assert.True(exit == 0, complaint);
        using var client = new HttpClient();
        var root = new Uri(service.Page, pathBase.Length == 0 ? "/" : pathBase + "/");
        await Eventually.TrueAsync(
            () => client.GetAsync(new Uri(root, "batch/sloe")).GetAwaiter().GetResult().Content.ReadAsStringAsync().GetAwaiter().GetResult().Contains("1.081", StringComparison.Ordinal),
            "the reading is not on the page");
        var waiting = new Queue<Uri>([root]);
        var seen = new HashSet<Uri>(waiting);
        while (waiting.TryDequeue(out var address))
        {
            using var answer = await client.GetAsync(address, HttpCompletionOption.ResponseHeadersRead, TestContext.Current.CancellationToken);
            Assert.True(answer.IsSuccessStatusCode, $"{address}: {answer.StatusCode}");
            if (answer.Content.Headers.ContentType?.MediaType != "text/html")
            {
                continue;
            }

            foreach (Match link in Links().Matches(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)))
            {
                var target = new Uri(answer.RequestMessage!.RequestUri!, WebUtility.HtmlDecode(link.Groups[1].Value));
                Assert.StartsWith(root.ToString(), target.ToString(), StringComparison.Ordinal);
                // From a stretch of a curve one comes to ever more of them: one step is enough.
                var isDeeper = address.Query.Contains("until=", StringComparison.Ordinal) && target.Query.Contains("until=", StringComparison.Ordinal);
                if (!isDeeper && seen.Add(target))
                {
                    waiting.Enqueue(target);
                }
            }
        }

        Assert.True(seen.Count > 15, $"only {seen.Count} addresses");
    }

    [GeneratedRegex("(?:href|src)=\"([^\"#]+)[\"#]")]
    private static partial Regex Links();
}
