using System.Globalization;
using System.Text.Json.Nodes;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Mqtt;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Journal;

/// <summary>A batch with a sensor that sends to the embedded broker, and its journal, on a phone of 390 px.</summary>
public sealed class SensorBatchFlowTests(Browser browser) : IClassFixture<Browser>
{
    private static readonly BatchId Plum = new("plum-wine");

    private static readonly SensorId Float = new("attic-float");

    [Fact]
    public async Task BatchWithASensor_IsDrawnAndItsJournalStandsInTheCurve()
    {
        await using var service = await StartAsync();
        await SendAsync(service, days: 6);
        var (page, errors) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await StartBatchAsync(page, service);
        await Assertions.Expect(page.Locator("svg.phone .measured").First).ToBeVisibleAsync(JournalPage.Patient);
        await page.GetByRole(AriaRole.Button, new() { Name = "Stirred or degassed", Exact = true }).ClickAsync();
        await Assertions.Expect(page.Locator(".tapped")).ToContainTextAsync("Written: Stirred or degassed");
        await JournalPage.OpenAsync(page, "Hand reading");
        await page.GetByLabel("Gravity as read").FillAsync("1.042");
        await page.GetByLabel("Taken as a sample").FillAsync("100");
        await JournalPage.WriteAsync(page, "1.042\u00a0SG, sample of 100\u00a0mL");
        await Assertions.Expect(page.GetByText("19.9\u00a0L").First).ToBeVisibleAsync(JournalPage.Patient);
        await Assertions.Expect(page.Locator("svg.phone .hand").First).ToBeVisibleAsync(JournalPage.Patient);
        await JournalPage.CheckAsync(page);
        await JournalPage.PictureAsync(page, "sensor-batch-light");
        Assert.Empty(errors);
    }

    [Fact]
    public async Task SensorThatMovedOnWhileTheFormOfItsBatchWasOpen_StaysWhereItWasMoved()
    {
        await using var service = await StartAsync();
        await SendAsync(service, days: 2);
        var (page, _) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await StartBatchAsync(page, service);
        await page.GetByRole(AriaRole.Link, new() { Name = "Edit this batch" }).ClickAsync();
        await page.GetByLabel("Goal").FillAsync("dry, to age");

        // Meanwhile, on the sensor's page: first it sits elsewhere in the vessel, then it goes into another batch.
        var sloe = new Batch(new BatchId("sloe-wine"), "Sloe wine", FermentKind.Wine, null, null, EventTime.From(DateTimeOffset.UtcNow.AddDays(-1)), null, null, null, ValueList.Of<SensorAttachment>());
        await service.Store.PutPageBatchAsync(sloe, TestContext.Current.CancellationToken);
        var now = EventTime.From(DateTimeOffset.UtcNow);
        Assert.Equal(AttachmentChange.Done, await service.Store.ChangePlacementAsync(service.Store.ReadStays(Float)[0], now - TimeSpan.FromHours(3), Placement.Room, TestContext.Current.CancellationToken));
        Assert.Equal(AttachmentChange.Done, await service.Store.MoveSensorAsync(
            service.Store.ReadStays(Float)[1], new SensorAttachment(Float, now - TimeSpan.FromHours(1), null, Placement.BareGlass), sloe.Id, TestContext.Current.CancellationToken));
        var stays = service.Store.ReadStays(Float);
        Assert.Equal([Plum, Plum, sloe.Id], stays.Select(stay => stay.Batch));
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep the changes" }).ClickAsync();
        await Assertions.Expect(page.GetByText("dry, to age").First).ToBeVisibleAsync(JournalPage.Patient);
        Assert.Equal("dry, to age", service.Store.ReadBatch(Plum)!.Facts.Batch.Goal);
        Assert.Equal(stays, service.Store.ReadStays(Float));

        // And the other way: a change of the batch keeps what the sensor's page did, and a choice of another sensor still counts.
        await page.GetByRole(AriaRole.Link, new() { Name = "Edit this batch" }).ClickAsync();
        await Assertions.Expect(page.GetByLabel("Sensor", new() { Exact = true })).ToHaveValueAsync("");
        await page.GetByLabel("Sensor", new() { Exact = true }).SelectOptionAsync(Float.Value);
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep the changes" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Write in the book" })).ToBeVisibleAsync(JournalPage.Patient);
        var after = service.Store.ReadStays(Float);
        Assert.Equal([Plum, Plum, sloe.Id, Plum], after.Select(stay => stay.Batch));
        Assert.Equal(stays.Take(2), after.Take(2));
        Assert.Equal(after[3].Attachment.From, after[2].Attachment.Until);
    }

    private static async Task<RunningService> StartAsync() => await RunningService.StartAsync(file => file["Topics"] = new JsonArray(
        RunningService.Topic("attic/float", Float.Value, "/at", ("/sg", "gravity", "SG"), ("/c", "temperature", "°C"))));

    private static async Task StartBatchAsync(IPage page, RunningService service)
    {
        await page.GotoAsync(new Uri(service.Page, "start").ToString());
        await page.GetByLabel("Name", new() { Exact = true }).FillAsync("Plum wine");
        await page.GetByLabel("Volume", new() { Exact = true }).FillAsync("20");
        await page.GetByLabel("Original gravity").FillAsync("1.092");
        await page.GetByLabel("Yeast in").FillAsync(JournalPage.Days(6));
        await page.GetByLabel("Sensor", new() { Exact = true }).SelectOptionAsync(Float.Value);
        await page.GetByRole(AriaRole.Button, new() { Name = "Start a batch" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Write in the book" })).ToBeVisibleAsync(JournalPage.Patient);
    }

    /// <summary>A reading every three hours up to now, falling from 1.092.</summary>
    private static async Task SendAsync(RunningService service, int days)
    {
        var count = 0;
        for (var hours = days * 24; hours >= 0; hours -= 3)
        {
            var gravity = 1.092 - (0.055 * (1 - ((double)hours / (days * 24))));
            var message = string.Create(
                CultureInfo.InvariantCulture, $$"""{"at":"{{DateTime.UtcNow.AddHours(-hours):yyyy-MM-dd'T'HH:mm:ss'Z'}}","sg":{{gravity:F4}},"c":19.5}""");
            var (exit, complaint) = await Mosquitto.PublishAsync(service.BrokerPort, "-q", "1", "-t", "attic/float", "-m", message);
            Assert.True(exit == 0, complaint);
            count += 2;
        }

        await Eventually.TrueAsync(() => service.Store.ReadCounts().ReadingsStored == count, () => $"{service.Store.ReadCounts()}");
    }
}
