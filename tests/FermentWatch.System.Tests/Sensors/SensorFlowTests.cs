using System.Globalization;
using System.Text.Json.Nodes;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.System.Tests.Dashboard;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Mqtt;
using Microsoft.Playwright;
using Xunit;

namespace FermentWatch.System.Tests.Sensors;

/// <summary>The page of a sensor on a phone, with the whole service behind it, from an empty data directory.</summary>
public sealed class SensorFlowTests(Browser browser) : IClassFixture<Browser>
{
    private static readonly DateTimeOffset Begin = DateTimeOffset.UtcNow.AddHours(-12);
    private static readonly SensorId Float = new("float");
    private static readonly (string, string)[] Straight = [("25", "1.000"), ("35", "1,021"), ("45", "1.040"), ("55", "1.061"), ("65", "1.080")];
    private static readonly (string, string)[] Turning = [("25", "1.000"), ("35", "1.030"), ("45", "1.040"), ("55", "1.030"), ("65", "1.000")];

    [Fact]
    public async Task CalibratedInclination_ShowsResidualsAndGivesTheBatchItsGravity_AndATurningCurveIsRefused()
    {
        await using var service = await StartAsync();
        await SendAsync(service, "deg", 60, 55, 50);
        var page = await OpenAsync(service, "sensors");
        await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "float" }).ClickAsync();
        await FillAsync(page, Turning);
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Take this calibration over" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync("The curve turns at 45");
        Assert.Equal("1.030", await page.GetByLabel("Gravity of point 2 in SG", new PageGetByLabelOptions { Exact = true }).InputValueAsync());
        Assert.Empty(service.Store.ReadCalibrations(Float));
        await CheckAsync(page);

        await FillAsync(page, Straight);
        await page.GetByLabel("Curve", new PageGetByLabelOptions { Exact = true }).SelectOptionAsync("1");
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Take this calibration over" }).ClickAsync();
        await Assertions.Expect(page.Locator("table.residuals tbody tr")).ToHaveCountAsync(5);
        // By hand: slope 0.2/100 a degree, mean 1.0404 at 45°; the point at 35° lies 1.021 - 1.0204 above it.
        await Assertions.Expect(page.Locator("table.residuals tbody tr").Nth(1)).ToContainTextAsync("+0.0006");
        await CheckAsync(page);
        Assert.Equal(1.0704, Gravity(service, "sloe")[0].Value, 1e-9);
        await page.GotoAsync(new Uri(service.Page, "batch/sloe").ToString());
        await Assertions.Expect(page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "float" }).First).ToBeVisibleAsync();

        // Taken back: the gravity goes with it.
        await page.GotoAsync(new Uri(service.Page, "sensors/float").ToString());
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Take this calibration back" }).ClickAsync();
        await Assertions.Expect(page.GetByText("taken back")).ToBeVisibleAsync();
        Assert.Empty(Gravity(service, "sloe"));
    }

    [Fact]
    public async Task OffsetOfAHandReading_IsAppliedOnlyWhenTakenOverAndReachesBack()
    {
        await using var service = await StartAsync();
        await SendAsync(service, "sg", 1.050, 1.050, 1.050);
        var at = EventTime.From(DateTimeOffset.UtcNow);
        await service.Store.AppendJournalAsync(
            new BatchId("sloe"), new JournalDraft(JournalKind.MeasuredByHand, at, "", SpecificGravity.FromRatio(1.054)), null, TestContext.Current.CancellationToken);
        var page = await OpenAsync(service, "sensors/float");
        await Assertions.Expect(page.GetByText("+0.0040 is added to its gravity")).ToBeVisibleAsync();
        Assert.Equal(1.050, Gravity(service, "sloe")[0].Value, 1e-9);
        await CheckAsync(page);

        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Take the offset over" }).ClickAsync();
        await Assertions.Expect(page.GetByText("Gravity by hand readings, for all its readings")).ToBeVisibleAsync();
        Assert.Equal([1.054, 1.054, 1.054], Gravity(service, "sloe").Select(reading => Math.Round(reading.Value, 6)));
        Assert.Equal(1.050, Gravity(service, "sloe")[0].Raw, 1e-9);
    }

    [Fact]
    public async Task PlacementAndMove_AreKeptOverTheConfigurationAndOverlapIsRefused()
    {
        await using var service = await StartAsync();
        await SendAsync(service, "sg", 1.050);
        var page = await OpenAsync(service, "sensors/float");
        await page.GetByText("It sits elsewhere in the vessel").ClickAsync();
        await page.Locator("#place-placement").SelectOptionAsync("bare-glass");
        await page.Locator("#place-from").FillAsync(Local(Begin.AddHours(3)));
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Change the placement" }).ClickAsync();
        await Assertions.Expect(page.Locator(".counted li")).ToHaveCountAsync(2);
        Assert.Equal([Placement.InLiquid, Placement.BareGlass], service.Store.ReadStays(Float).Select(stay => stay.Attachment.Placement));

        // Before the present stay began: refused, nothing changed.
        await page.GetByText("It moves to another batch").ClickAsync();
        await page.Locator("#move-at").FillAsync(Local(Begin.AddHours(1)));
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Move the sensor" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync("it must be after the sensor came into Sloe wine");
        await CheckAsync(page);
        await page.Locator("#move-at").FillAsync(Local(Begin.AddHours(6)));
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Move the sensor" }).ClickAsync();
        await Assertions.Expect(page.Locator(".counted li")).ToHaveCountAsync(3);

        var stays = service.Store.ReadStays(Float);
        Assert.Equal(["sloe", "sloe", "quince"], stays.Select(stay => stay.Batch.Value));
        Assert.Equal(stays[1].Attachment.Until, stays[2].Attachment.From);
        Assert.Empty(Gravity(service, "sloe"));
        Assert.Single(Gravity(service, "quince"));

        // What the configuration says of the sensors is read again at every start.
        var file = service.Store.ReadBatches().Select(batch => batch with { Sensors = ValueList.Of<SensorAttachment>() }).ToList();
        await service.Store.ReplaceBatchesAsync(file, TestContext.Current.CancellationToken);
        Assert.Equal(stays, service.Store.ReadStays(Float));
        var overlap = new SensorAttachment(Float, stays[2].Attachment.From + TimeSpan.FromHours(1), null, Placement.InLiquid);
        Assert.Equal(AttachmentChange.Overlapping, await service.Store.MoveSensorAsync(null, overlap, new BatchId("sloe"), TestContext.Current.CancellationToken));
    }

    private static async Task<RunningService> StartAsync() => await RunningService.StartAsync(file =>
    {
        file["Topics"] = new JsonArray(
            RunningService.Topic("cellar/deg", "float", null, (null!, "inclination", "°")),
            RunningService.Topic("cellar/sg", "float", null, (null!, "gravity", "SG")));
        file["Batches"] = new JsonArray(Batch("sloe", "Sloe wine", true), Batch("quince", "Quince mead", false));
    });

    private static JsonObject Batch(string id, string name, bool hasFloat)
    {
        var from = Begin.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);
        var batch = new JsonObject { ["Id"] = id, ["Name"] = name, ["Kind"] = "wine", ["Inoculated"] = from, ["OriginalGravity"] = 1.09 };
        if (hasFloat)
        {
            batch["Sensors"] = new JsonArray(new JsonObject { ["Sensor"] = "float", ["From"] = from, ["Placement"] = "in-liquid" });
        }

        return batch;
    }

    private static async Task SendAsync(RunningService service, string topic, params double[] numbers)
    {
        foreach (var number in numbers)
        {
            var (exit, complaint) = await Mosquitto.PublishAsync(
                service.BrokerPort, "-q", "1", "-t", "cellar/" + topic, "-m", number.ToString(CultureInfo.InvariantCulture));
            Assert.True(exit == 0, complaint);
        }

        await Eventually.TrueAsync(() => service.Store.ReadCounts().ReadingsStored == numbers.Length, () => $"{service.Store.ReadCounts()}");
    }

    private async Task<IPage> OpenAsync(RunningService service, string path)
    {
        var (page, _) = await browser.OpenAsync(390, 844, ColorScheme.Light);
        await page.GotoAsync(new Uri(service.Page, path).ToString());
        return page;
    }

    private static async Task FillAsync(IPage page, (string Degrees, string Gravity)[] points)
    {
        for (var i = 1; i <= points.Length; i++)
        {
            await page.GetByLabel($"Inclination of point {i} in degrees").FillAsync(points[i - 1].Degrees);
            await page.GetByLabel($"Gravity of point {i} in SG", new PageGetByLabelOptions { Exact = true }).FillAsync(points[i - 1].Gravity);
        }
    }

    private static async Task CheckAsync(IPage page)
    {
        Assert.Equal(0, await page.EvaluateAsync<int>("() => document.documentElement.scrollWidth - document.documentElement.clientWidth"));
        var whole = await page.EvaluateAsync<int>("() => document.documentElement.scrollHeight");
        await page.SetViewportSizeAsync(390, Math.Max(844, whole));
        var found = await page.RunAxe(new AxeRunOptions { RunOnly = RunOnlyOptions.Tags("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa") });
        Assert.True(found.Violations.Length == 0, string.Join("; ", found.Violations.Select(v => v.Id + " " + string.Join(", ", v.Nodes.Select(node => node.Html)))));
        await page.SetViewportSizeAsync(390, 844);
    }

    private static IReadOnlyList<Reading> Gravity(RunningService service, string batch) =>
        [.. service.Store.ReadBatch(new BatchId(batch))!.Facts.Series.Where(one => one.Series.Quantity == QuantityKind.Gravity).SelectMany(one => one.Readings)];

    private static string Local(DateTimeOffset time) => time.ToString("yyyy-MM-dd'T'HH:mm", CultureInfo.InvariantCulture);
}
