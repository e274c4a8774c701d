using System.Globalization;
using System.Text.Json.Nodes;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Pipeline;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.Mqtt;
using FermentWatch.System.Tests.Notifiers;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.EndToEnd;

/// <summary>Bytes in at the broker, curve on the page, notice at the relay: nothing between them is replaced.</summary>
public sealed class PublishToPhoneTests(Browser browser) : IClassFixture<Browser>
{
    private static readonly DateTimeOffset Start = new(2026, 10, 6, 6, 0, 0, TimeSpan.Zero);

    [Theory]
    [InlineData("mqttv311")]
    [InlineData("mqttv5")]
    public async Task TemperatureOutsideTheBand_ReachesThePhoneOnceWithItsNumbers(string version)
    {
        await using var relay = await RelayReceiver.AnsweringAsync(200);
        var clock = new DemoClock(Start);
        await using var service = await RunningService.StartAsync(file => Configure(file, relay.Topic), clock);
        for (var minute = 0; minute <= 120; minute += 10)
        {
            // Inside the band for an hour, then 2 °C above it for an hour: twice the on-delay of a sensor in the liquid.
            var celsius = minute <= 60 ? 20.0 : 24.0;
            clock.MoveTo(Start.AddMinutes(minute));
            var payload = string.Create(CultureInfo.InvariantCulture, $"{{\"gravity\":1.0812,\"celsius\":{celsius}}}");
            var (exit, complaint) = await Mosquitto.PublishAsync(service.BrokerPort, "-V", version, "-q", "1", "-t", "cellar/one", "-m", payload);
            Assert.True(exit == 0, complaint);
        }

        await Eventually.TrueAsync(() => service.Store.ReadCounts().ReadingsStored == 26, () => $"{service.Store.ReadCounts()}");

        // The notice waits a minute for its group: here that is a second.
        clock.Run(60);
        await Eventually.TrueAsync(() => !relay.Requests.IsEmpty, "no notice came");
        var notice = JsonNode.Parse(relay.Requests.First().Body)!.AsObject();
        var words = notice.ToJsonString();
        Assert.Contains("24", words, StringComparison.Ordinal);
        Assert.Contains("22", words, StringComparison.Ordinal);
        Assert.Contains("Sloe wine", words, StringComparison.Ordinal);

        // The page listens on loopback only: a link would lead nowhere. The letters alone may stand in the picture by chance.
        Assert.DoesNotContain("://", words, StringComparison.Ordinal);
        await Eventually.TrueAsync(() => service.Store.ReadNextDue() is null, "a notice still waits");
        Assert.Single(relay.Requests);
    }

    [Fact]
    public async Task ReadingsPublished_BecomeACurveInTheOpenPageWithoutReload()
    {
        var clock = new DemoClock(Start);
        await using var service = await RunningService.StartAsync(file => Configure(file, null), clock);
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await page.GotoAsync(new Uri(service.Page, "batch/sloe").AbsoluteUri);
        Assert.Equal(0, await page.Locator("svg .measured").CountAsync());
        await using var publisher = new RawPublisher("float-1", 4, service.BrokerPort);
        Assert.True(await publisher.TryConnectAsync());
        for (var hour = 0; hour <= 96; hour++)
        {
            clock.MoveTo(Start.AddHours(hour));
            var gravity = 1.090 - (0.060 / (1 + Math.Exp((60 - hour) / 12.0)));
            await publisher.PublishAsync("cellar/one", string.Create(CultureInfo.InvariantCulture, $"{{\"gravity\":{gravity:F4},\"celsius\":20.1}}"));
            await Eventually.TrueAsync(() => publisher.OpenCount == 0, "a message was not acknowledged");
        }

        // The curve of the phone's picture: the wide one is hidden.
        await page.Locator("svg.phone .measured").First.WaitForAsync(new LocatorWaitForOptions { State = WaitForSelectorState.Attached, Timeout = 60_000 });
        await Eventually.TrueAsync(
            () => page.InnerTextAsync("main").GetAwaiter().GetResult().Contains("20.1", StringComparison.Ordinal),
            "the page does not show the newest temperature");
        Assert.Empty(errors);
    }

    [Fact]
    public async Task PayloadThatCannotBeRead_IsKeptAndShownWithItsReason()
    {
        await using var service = await RunningService.StartAsync(file => Configure(file, null));
        var (exit, complaint) = await Mosquitto.PublishAsync(
            service.BrokerPort, "-q", "1", "-t", "cellar/one", "-m", "{\"gravity\":\"1,012\",\"celsius\":20.5}");
        Assert.True(exit == 0, complaint);
        await Eventually.TrueAsync(() => service.Store.ReadRefused(5).Count == 1, "the message is not among the refused ones");

        // The temperature beside the bad gravity was taken.
        Assert.Equal(1, service.Store.ReadCounts().ReadingsStored);
        using var client = new HttpClient { BaseAddress = service.Page };
        await Eventually.TrueAsync(
            () => client.GetStringAsync("messages").GetAwaiter().GetResult().Contains("1,012", StringComparison.Ordinal),
            "the page does not show the message");
        Assert.Contains("decimal comma; a point is expected", await client.GetStringAsync("messages", TestContext.Current.CancellationToken), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task ReadingsThroughAnExternalBroker_AreStoredOnceEach()
    {
        await using var mosquitto = await Mosquitto.StartAsync();
        await using var service = await RunningService.StartAsync(file =>
        {
            Configure(file, null);
            file["Broker"] = new JsonObject
            {
                ["Mode"] = "external",
                ["External"] = new JsonObject { ["Host"] = "127.0.0.1", ["Port"] = mosquitto.Port },
            };
        });
        await Eventually.TrueAsync(() => service.Broker.IsUp, () => $"not connected: {service.Broker.State}");
        for (var i = 0; i < 5; i++)
        {
            var (exit, complaint) = await Mosquitto.PublishAsync(mosquitto.Port, "-q", "1", "-t", "cellar/one", "-m", "{\"gravity\":1.0812,\"celsius\":20.5}");
            Assert.True(exit == 0, complaint);
        }

        // Five equal messages without a time are five readings of each quantity.
        await Eventually.TrueAsync(() => service.Store.ReadCounts().ReadingsStored == 10, () => $"{service.Store.ReadCounts()}");
        var gravity = service.Store.ReadReadings(new SeriesKey(new SensorId("float-1"), QuantityKind.Gravity), default, new EventTime(long.MaxValue));
        Assert.Equal(5, gravity.Count);
        Assert.Equal(FermentKind.Wine, service.Store.ReadBatch(new BatchId("sloe"))!.Facts.Batch.Kind);
    }

    private static void Configure(JsonObject file, Uri? relay)
    {
        file["Topics"] = new JsonArray(RunningService.Topic("cellar/one", "float-1", null, ("/gravity", "gravity", "SG"), ("/celsius", "temperature", "°C")));
        file["Batches"] = new JsonArray(new JsonObject
        {
            ["Id"] = "sloe",
            ["Name"] = "Sloe wine",
            ["Kind"] = "wine",
            ["VolumeLiters"] = 10,
            ["Inoculated"] = "2026-10-06T05:00:00Z",
            ["OriginalGravity"] = 1.090,
            ["BandLowCelsius"] = 18,
            ["BandHighCelsius"] = 22,
            ["TolerancePercent"] = 14,
            ["Sensors"] = new JsonArray(new JsonObject { ["Sensor"] = "float-1" }),
        });
        if (relay is not null)
        {
            file["Relay"] = new JsonObject { ["Url"] = relay.AbsoluteUri };
        }
    }
}
