using System.Diagnostics;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard;
using FermentWatch.Service.Pipeline;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Mqtt;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Connecting;

/// <summary>From the first start with an empty data directory to the first own chart, on a phone of 390 px, no file edited: at most 15 taps and 3 minutes.</summary>
public sealed class FirstChartTests(Browser browser, ITestOutputHelper output) : IClassFixture<Browser>
{
    private const string Topic = "barn/shelf-b/float-2";
    private static readonly LocatorAssertionsToBeVisibleOptions Patient = new() { Timeout = 60000 };

    private int _taps;
    private int _keys;

    [Fact]
    public async Task FirstStart_LeadsToAChartOfGravityAndTemperature()
    {
        var watch = Stopwatch.StartNew();
        await using var service = await RunningService.StartAsync(_ => { });
        await PublishAsync(service, """{"dens":1.0921,"deg":19.44,"lean":38.6,"cell":3.91}""");
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await page.GotoAsync(service.Page.AbsoluteUri);
        await Assertions.Expect(page.GetByText("One sensor topic is heard")).ToBeVisibleAsync();
        await PhonePage.CheckAsync(page, "first-start");

        await TapAsync(page.GetByRole(AriaRole.Link, new() { Name = "Listening list" }));
        await PhonePage.CheckAsync(page, "first-list");
        await TapAsync(page.Locator(".val[value='/dens']"));
        await PhonePage.CheckAsync(page, "first-number");
        await Assertions.Expect(page.Locator("input[name=unit][value='SG']")).ToBeCheckedAsync();
        await TapAsync(page.GetByRole(AriaRole.Button, new() { Name = "Keep this number" }));
        await Assertions.Expect(page.GetByText("Kept as float-2.")).ToBeVisibleAsync();
        await PhonePage.CheckAsync(page, "first-kept");
        await TapAsync(page.Locator(".val[value='/deg']"));
        await TapAsync(page.GetByRole(AriaRole.Button, new() { Name = "Keep this number" }));

        await TapAsync(page.GetByRole(AriaRole.Link, new() { Name = "Start a batch with float-2" }));
        await Assertions.Expect(page.GetByLabel("Sensor", new() { Exact = true })).ToHaveValueAsync("float-2");
        await PhonePage.CheckAsync(page, "first-batch");
        await TypeAsync(page.GetByLabel("Name", new() { Exact = true }), "Plum wine");
        await TapAsync(page.GetByRole(AriaRole.Button, new() { Name = "Start a batch" }));

        // What was heard before is the first reading: the chart stands without another message.
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Plum wine", Level = 1 })).ToBeVisibleAsync(Patient);
        await Assertions.Expect(page.Locator("svg.phone .nowpt").First).ToBeVisibleAsync(Patient);
        await Assertions.Expect(page.GetByRole(AriaRole.Row, new() { Name = "Temperature" }).GetByText("19.4")).ToBeVisibleAsync(Patient);
        output.WriteLine($"from first start to the first own chart: {_taps} taps and {_keys} keys, {watch.Elapsed.TotalSeconds:F1} s");
        Assert.True(_taps <= 15, $"{_taps} taps");
        Assert.True(_keys <= 20, $"{_keys} keys");
        Assert.True(watch.Elapsed < TimeSpan.FromMinutes(3), $"{watch.Elapsed}");
        await PhonePage.CheckAsync(page, "first-chart");
        Assert.Empty(errors);

        // And it goes on by itself.
        await PublishAsync(service, """{"dens":1.0911,"deg":19.5,"lean":38.4,"cell":3.91}""");
        await Eventually.TrueAsync(() => Stored(service, QuantityKind.Gravity).Count == 2, "the second reading was not stored");
        Assert.Equal([1.0921, 1.0911], Stored(service, QuantityKind.Gravity).Select(reading => reading.Value));
        var batch = service.Store.ReadBatch(new BatchId("plum-wine"))!.Facts;
        Assert.Equal(2, batch.Series.Single(series => series.Series.Quantity == QuantityKind.Gravity).Readings.Count);
    }

    [Fact]
    public async Task ExistingBatch_GetsTheSensorWithTheNumber()
    {
        await using var service = await RunningService.StartAsync(_ => { });
        foreach (var name in (string[])["Plum wine", "Heather mead"])
        {
            await service.Store.PutPageBatchAsync(
                new Batch(new BatchId(name.ToLowerInvariant().Replace(' ', '-')), name, FermentKind.Wine, null, null, EventTime.From(DateTimeOffset.UtcNow.AddDays(-2)), null, null, null, ValueList.Of<SensorAttachment>()) { Origin = BatchOrigin.Page },
                TestContext.Current.CancellationToken);
        }

        service.Services.GetRequiredService<PipelineSignals>().Touch([new BatchId("plum-wine"), new BatchId("heather-mead")]);
        var board = service.Services.GetRequiredService<Board>();
        await Eventually.TrueAsync(() => board.State.Snapshot.Entries.Count == 2, "the batches are not in the book");
        await PublishAsync(service, """{"dens":1.0421,"at":1790000000}""");
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Dark);
        await page.GotoAsync(new Uri(service.Page, "listening").AbsoluteUri);
        await TapAsync(page.Locator(".val[value='/dens']"));
        await page.GetByLabel("In batch").SelectOptionAsync("Heather mead");
        await page.GetByLabel("It sits").SelectOptionAsync("on the glass, insulated");
        await PhonePage.CheckAsync(page, "number-into-batch");
        await TapAsync(page.GetByRole(AriaRole.Button, new() { Name = "Keep this number" }));
        await TapAsync(page.GetByRole(AriaRole.Link, new() { Name = "See Heather mead" }));
        await Assertions.Expect(page.Locator("svg.phone .nowpt").First).ToBeVisibleAsync(Patient);

        var attached = Assert.Single(service.Store.ReadBatch(new BatchId("heather-mead"))!.Facts.Batch.Sensors);
        Assert.Equal(("float-2", Placement.InsulatedOnGlass), (attached.Sensor.Value, attached.Placement));
        Assert.Empty(service.Store.ReadBatch(new BatchId("plum-wine"))!.Facts.Batch.Sensors);
        Assert.Empty(errors);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task TimeInTheMessage_IsTheTimeOfTheReadingOnceItIsChosen(bool isChosen)
    {
        await using var service = await RunningService.StartAsync(_ => { });
        var sampled = DateTimeOffset.FromUnixTimeSeconds(DateTimeOffset.UtcNow.AddHours(-3).ToUnixTimeSeconds());
        string Message(int minutes) => $$"""{"dens":1.0421,"at":{{sampled.AddMinutes(minutes).ToUnixTimeSeconds()}}}""";
        await PublishAsync(service, Message(0));
        var (page, _) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await page.GotoAsync(new Uri(service.Page, "listening").AbsoluteUri);
        await TapAsync(page.Locator(".val[value='/dens']"));
        if (isChosen)
        {
            await page.GetByLabel("Time of the reading").SelectOptionAsync("/at");
        }

        await TapAsync(page.GetByRole(AriaRole.Button, new() { Name = "Keep this number" }));
        await Assertions.Expect(page.GetByText("Kept as float-2.")).ToBeVisibleAsync();
        await PublishAsync(service, Message(10));
        await Eventually.TrueAsync(() => Stored(service, QuantityKind.Gravity).Count == 2, "the second reading was not stored");

        Assert.All(Stored(service, QuantityKind.Gravity).Zip((int[])[0, 10]), pair =>
        {
            var (reading, minutes) = pair;
            var expected = sampled.AddMinutes(minutes);
            if (isChosen)
            {
                Assert.Equal(expected, reading.At.ToDateTimeOffset());
            }
            else
            {
                Assert.InRange(reading.At.ToDateTimeOffset() - expected, TimeSpan.FromHours(2.5), TimeSpan.FromHours(3.5));
                Assert.Null(reading.DeviceTime);
            }
        });
    }

    private static IReadOnlyList<Reading> Stored(RunningService service, QuantityKind quantity) =>
        service.Store.ReadReadings(new SeriesKey(new SensorId("float-2"), quantity), default, new EventTime(long.MaxValue));

    private static async Task PublishAsync(RunningService service, string message)
    {
        var (exit, complaint) = await Mosquitto.PublishAsync(service.BrokerPort, "-q", "1", "-t", Topic, "-m", message);
        Assert.True(exit == 0, complaint);
    }

    private async Task TapAsync(ILocator target)
    {
        _taps++;
        await target.ClickAsync();
    }

    private async Task TypeAsync(ILocator target, string text)
    {
        await TapAsync(target);
        _keys += text.Length;
        await target.PressSequentiallyAsync(text);
    }
}
