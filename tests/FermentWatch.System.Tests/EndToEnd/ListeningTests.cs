using System.Diagnostics;
using System.Text.Json.Nodes;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.Mqtt;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.EndToEnd;

/// <summary>A sensor that nobody mapped is connected by tapping, from an empty data directory, on a phone.</summary>
public sealed class ListeningTests(Browser browser, ITestOutputHelper output) : IClassFixture<Browser>
{
    private const string Message = """{"dens":1.0421,"deg":19.44,"lean":38.6,"cell":3.91}""";
    private static readonly SeriesKey Gravity = new(new SensorId("float-2"), QuantityKind.Gravity);

    private int _taps;

    [Fact]
    public async Task UnknownSensorOnTheEmbeddedBroker_IsReadAfterAFewTapsWithoutARestart()
    {
        var watch = Stopwatch.StartNew();
        await using var service = await RunningService.StartAsync(_ => { });
        await PublishAsync(service.BrokerPort);
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await page.GotoAsync(service.Page.AbsoluteUri);
        await TapAsync(page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Settings" }));
        await TapAsync(page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Listening list" }));
        await CheckAsync(page);
        await KeepAsync(page, "dens", "SG");
        await CheckAsync(page);
        await KeepAsync(page, "deg", "°C");
        output.WriteLine($"from first start to two mapped numbers: {_taps} taps, {watch.Elapsed.TotalSeconds:F1} s");
        Assert.True(_taps <= 15, $"{_taps} taps");
        Assert.True(watch.Elapsed < TimeSpan.FromMinutes(3), $"{watch.Elapsed}");

        // What was heard before the tap is the first reading.
        Assert.Single(Stored(service, Gravity));
        await PublishAsync(service.BrokerPort);
        await Eventually.TrueAsync(() => Stored(service, Gravity).Count == 2, "no reading was stored");
        Assert.Equal(1.0421, Stored(service, Gravity)[0].Value);
        Assert.Equal(19.44, Stored(service, new SeriesKey(new SensorId("float-2"), QuantityKind.Temperature))[0].Value);

        // A wrong unit reaches back: from here on 1.0421 counts as degrees Plato.
        await TapAsync(page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Whole list" }));
        await CheckAsync(page);
        await TapAsync(page.Locator("summary", new PageLocatorOptions { HasTextString = "float-2" }));
        await Connecting.PhonePage.CheckAsync(page, "known-sensor");
        await page.GetByLabel("Read gravity of float-2 as").SelectOptionAsync("°P");
        await TapAsync(page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Change what gravity is" }));
        await Eventually.TrueAsync(() => Stored(service, Gravity)[0].Value is > 1.003 and < 1.005, () => $"{Stored(service, Gravity)[0]}");

        await TapAsync(page.Locator("summary", new PageLocatorOptions { HasTextString = "float-2" }));
        await TapAsync(page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Read no more of float-2" }));
        await Assertions.Expect(page.GetByText("No sensor is known yet.")).ToBeVisibleAsync();
        Assert.Equal(2, Stored(service, Gravity).Count);
        Assert.Empty(errors);
    }

    [Fact]
    public async Task UnknownSensorOnAnExternalBroker_IsHeardOnlyWhileTheListIsOpenAndReadOnceMapped()
    {
        await using var mosquitto = await Mosquitto.StartAsync();
        await using var service = await RunningService.StartAsync(file => file["Broker"] = new JsonObject
        {
            ["Mode"] = "external",
            ["External"] = new JsonObject { ["Host"] = "127.0.0.1", ["Port"] = mosquitto.Port, ["ClientId"] = "watch" },
        });
        await Eventually.TrueAsync(() => service.Broker.IsUp, () => $"not connected: {service.Broker.State}");
        Assert.DoesNotContain("watch-listen", mosquitto.Log, StringComparison.Ordinal);
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Dark);
        await page.GotoAsync(new Uri(service.Page, "listening").AbsoluteUri);
        await Eventually.TrueAsync(() => mosquitto.Log.Contains("watch-listen 0 #", StringComparison.Ordinal), () => mosquitto.Log);

        await PublishAsync(mosquitto.Port);
        await Eventually.TrueAsync(
            () =>
            {
                page.ReloadAsync().GetAwaiter().GetResult();
                return page.GetByText("barn/shelf-b/float-2").CountAsync().GetAwaiter().GetResult() > 0;
            },
            "the topic is not in the list");
        Assert.Equal(0, service.Store.ReadCounts().Waiting + service.Store.ReadCounts().Messages.Values.Sum());
        await KeepAsync(page, "dens", "SG");
        await Eventually.TrueAsync(() => mosquitto.Log.Contains("watch 1 barn/shelf-b/float-2", StringComparison.Ordinal), () => mosquitto.Log);

        await PublishAsync(mosquitto.Port);
        await Eventually.TrueAsync(() => Stored(service, Gravity).Count == 2, "no reading was stored");
        Assert.Empty(errors);
    }

    [Fact]
    public async Task IgnoredTopic_LeavesTheListUntilItIsShownAgain()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        await PublishAsync(service.BrokerPort);
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await page.GotoAsync(new Uri(service.Page, "listening").AbsoluteUri);
        await TapAsync(page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Ignore barn/shelf-b/float-2" }));
        await Assertions.Expect(page.GetByText("Nothing new is heard.")).ToBeVisibleAsync();
        await CheckAsync(page);
        await TapAsync(page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Show again: barn/shelf-b/float-2" }));
        await Assertions.Expect(page.GetByText("One topic is new.")).ToBeVisibleAsync();
        Assert.Empty(errors);
    }

    private async Task KeepAsync(IPage page, string field, string unit)
    {
        await TapAsync(page.Locator($".val[value='/{field}']"));

        // The guess stands already: nothing needs to be chosen.
        await Assertions.Expect(page.Locator($"input[name=unit][value='{unit}']")).ToBeCheckedAsync();
        await Assertions.Expect(page.GetByLabel("Call the sensor")).ToHaveValueAsync("float-2");
        await TapAsync(page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Keep this number" }));
        await Assertions.Expect(page.Locator($".val[value='/{field}']")).ToHaveCountAsync(0);
    }

    private async Task TapAsync(ILocator target)
    {
        _taps++;
        await target.ClickAsync();
    }

    private static async Task CheckAsync(IPage page)
    {
        Assert.Equal(0, await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth - document.documentElement.clientWidth"));
        var size = page.ViewportSize!;
        await page.SetViewportSizeAsync(size.Width, Math.Max(size.Height, await page.EvaluateAsync<int>("() => document.documentElement.scrollHeight")));
        var found = await page.RunAxe(new AxeRunOptions { RunOnly = RunOnlyOptions.Tags("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa") });
        await page.SetViewportSizeAsync(size.Width, size.Height);
        Assert.True(found.Violations.Length == 0, string.Join("; ", found.Violations.Select(v => v.Id + " " + string.Join(", ", v.Nodes.Select(node => node.Html)))));
    }

    private static IReadOnlyList<Reading> Stored(RunningService service, SeriesKey series) =>
        service.Store.ReadReadings(series, default, new EventTime(long.MaxValue));

    private static async Task PublishAsync(int port)
    {
        var (exit, complaint) = await Mosquitto.PublishAsync(port, "-q", "1", "-t", "barn/shelf-b/float-2", "-m", Message);
        Assert.True(exit == 0, complaint);
    }
}
