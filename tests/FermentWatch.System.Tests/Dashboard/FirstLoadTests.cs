using System.Net.Http.Headers;
using System.Text.RegularExpressions;
using Xunit;

namespace FermentWatch.System.Tests.Dashboard;

/// <summary>Who opens a page for the first time, in a cellar with one bar of signal, waits for little: the page with all that it asks for.</summary>
public sealed partial class FirstLoadTests
{
    private const int MostBytes = 120 * 1024;

    [GeneratedRegex("""(?:src|href)="([^"]*assets/[^"]+)"[^>]*>""")]
    private static partial Regex Asset { get; }

    [Theory]
    [InlineData("")]
    [InlineData("batch/quince")]
    [InlineData("batch/quince/table")]
    [InlineData("bench/restart-plan?sent=yes&volume=20&original-gravity=1.1&present-gravity=1.03&temperature=14")]
    [InlineData("bench/sources")]
    public async Task PageAndWhatItAsksFor_AreSmall(string address)
    {
        await using var site = await DashboardSite.StartAsync(InventedCellar.Full());
        using var plain = new HttpClient { BaseAddress = site.Root };
        var html = await plain.GetStringAsync(address, TestContext.Current.CancellationToken);
        var assets = Asset.Matches(html).Select(match => new Uri(site.Root, match.Groups[1].Value)).ToHashSet();
        Assert.True(assets.Count >= 2, "a page has at least its styles and its script");
        var bytes = await SentAsync(plain, new Uri(site.Root, address));
        foreach (var asset in assets)
        {
            bytes += await SentAsync(plain, asset);
        }

        TestContext.Current.TestOutputHelper?.WriteLine($"{address}: {bytes} bytes with {assets.Count} files");
        Assert.InRange(bytes, 1, MostBytes);
    }

    private static async Task<long> SentAsync(HttpClient client, Uri address)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, address);
        request.Headers.AcceptEncoding.Add(new StringWithQualityHeaderValue("br"));
        request.Headers.AcceptEncoding.Add(new StringWithQualityHeaderValue("gzip"));
        using var answer = await client.SendAsync(request, TestContext.Current.CancellationToken);
        Assert.True(answer.IsSuccessStatusCode, $"{address}: {answer.StatusCode}");
        return (await answer.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken)).Length;
    }
}
