using System.Globalization;
using System.Net;
using System.Text.Json.Nodes;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Care;
using FermentWatch.Service.Dashboard;
using FermentWatch.Service.Pipeline;
using FermentWatch.System.Tests.Mqtt;
using FermentWatch.System.Tests.Notifiers;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Time.Testing;
using Xunit;

namespace FermentWatch.System.Tests.EndToEnd;

/// <summary>The service watches itself: from what is amiss to the notice at a real receiver and the words on the page, over hours of its clock.</summary>
public sealed class ServiceWatchTests
{
    private static readonly DateTimeOffset Noon = new(2026, 10, 6, 12, 0, 0, TimeSpan.Zero);

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task BackupThatFails_IsToldShownAndOverWithTheNextSoundOne()
    {
        await using var relay = await RelayReceiver.AnsweringAsync(200);
        var clock = new FakeTimeProvider(Noon);
        await using var service = await StartAsync(clock, file => file["Relay"] = new JsonObject { ["Url"] = relay.Topic.AbsoluteUri });
        var desk = service.Services.GetRequiredService<BackupDesk>();
        await File.WriteAllTextAsync(desk.Settings.Folder, "in the way", Stop);
        await Assert.ThrowsAsync<BackupException>(() => desk.MakeAsync(Stop));

        await PassUntilAsync(service, clock, TimeSpan.FromSeconds(20), () => !relay.Requests.IsEmpty, "the failed backup was not told");
        Assert.True(clock.GetUtcNow() - Noon >= TimeSpan.FromMinutes(10), "it was told before it had lasted");
        Assert.Contains("The backup failed", relay.Requests.First().Body, StringComparison.Ordinal);
        Assert.DoesNotContain(desk.Settings.Folder, relay.Requests.First().Body, StringComparison.Ordinal);
        using var client = new HttpClient { BaseAddress = service.Page };
        await PassUntilAsync(service, clock, TimeSpan.FromSeconds(1), () => Page(client, "alerts").Contains("About the service itself", StringComparison.Ordinal), "the page does not show it");
        Assert.Contains("the copy did not match the data", Page(client, "alerts"), StringComparison.Ordinal);
        Assert.DoesNotContain("No alert is open", Page(client, "alerts"), StringComparison.Ordinal);
        Assert.Contains("The service itself: the last backup could not be made", Page(client, ""), StringComparison.Ordinal);
        Assert.DoesNotContain("no alert is open", Page(client, ""), StringComparison.Ordinal);

        File.Delete(desk.Settings.Folder);
        await desk.MakeAsync(Stop);
        await PassUntilAsync(service, clock, TimeSpan.FromSeconds(20), () => relay.Requests.Count == 2, "its end was not told");
        Assert.Contains("sound, fresh backup", relay.Requests.Last().Body, StringComparison.Ordinal);
        await PassUntilAsync(service, clock, TimeSpan.FromSeconds(1), () => !Page(client, "alerts").Contains("About the service itself", StringComparison.Ordinal), "the page still shows it");
    }

    [Fact]
    public async Task SignsOfLife_GoOnWhileBatchesAreLookedAtAndStopWithThat()
    {
        // The first sign meets a watcher in trouble: the next one is due all the same.
        await using var watcher = await RelayReceiver.StartAsync((context, count) =>
        {
            context.Response.StatusCode = count == 1 ? 503 : 200;
            return Task.CompletedTask;
        });
        var clock = new FakeTimeProvider(Noon);
        await using var service = await StartAsync(clock, file => file["Alerts"]!["HeartbeatUrl"] = watcher.Topic.AbsoluteUri);
        var heartbeat = service.Services.GetRequiredService<Heartbeat>();

        await LookUntilAsync(service, clock, () => watcher.Requests.Count == 1, "no sign of life came");
        Assert.Null(heartbeat.TakenAt);
        await LookUntilAsync(service, clock, () => watcher.Requests.Count >= 3 && heartbeat.TakenAt is not null, "no further signs came");
        Assert.All(watcher.Requests, request => Assert.Equal("GET", request.Method));
        Assert.True(clock.GetUtcNow() - Noon >= HeartbeatLoop.Interval * 2, "signs came too close together");

        var monitor = service.Services.GetServices<IHostedService>().OfType<MonitorLoop>().Single();
        await monitor.StopAsync(Stop);
        var stopped = clock.GetUtcNow();
        await PassUntilAsync(service, clock, TimeSpan.FromSeconds(30), () => clock.GetUtcNow() > stopped + (HeartbeatLoop.Interval * 2), "time does not pass");
        var before = watcher.Requests.Count;
        await PassUntilAsync(service, clock, TimeSpan.FromSeconds(30), () => clock.GetUtcNow() > stopped + TimeSpan.FromHours(2), "time does not pass");
        Assert.Equal(before, watcher.Requests.Count);
    }

    [Fact]
    public async Task EveryMonth_AChannelIsTestedAndTheTestCanBeConfirmed()
    {
        await using var relay = await RelayReceiver.AnsweringAsync(200);
        var clock = new FakeTimeProvider(Noon);
        await using var service = await StartAsync(clock, file => file["Relay"] = new JsonObject { ["Url"] = relay.Topic.AbsoluteUri });
        var care = service.Services.GetRequiredService<ChannelCare>();
        await Eventually.TrueAsync(() => care.All().Single().TestedAt is not null, "the month did not begin");
        Assert.DoesNotContain(relay.Requests, IsTest);

        // Nights included: a test comes by day alone.
        await PassUntilAsync(service, clock, TimeSpan.FromHours(7), () => relay.Requests.Any(IsTest), "no test came");
        var tested = care.All().Single().TestedAt!.Value.ToDateTimeOffset();
        Assert.True(tested - Noon >= ChannelCare.Interval, $"tested on {tested}");
        Assert.InRange(tested.Hour, 10, 19);
        using var client = new HttpClient { BaseAddress = service.Page };
        Assert.Contains("Nobody confirmed that one arrived.", Page(client, "alert-health"), StringComparison.Ordinal);
        Assert.True(await care.ConfirmAsync("relay", Stop));
        Assert.True(care.All().Single().IsConfirmed);
        Assert.DoesNotContain("Nobody confirmed that one arrived.", Page(client, "alert-health"), StringComparison.Ordinal);

        static bool IsTest(ReceivedRequest request) => request.Body.Contains("monthly", StringComparison.OrdinalIgnoreCase);
    }

    private static Task<RunningService> StartAsync(FakeTimeProvider clock, Action<JsonObject> configure) => RunningService.StartAsync(
        file =>
        {
            file["Backup"] = new JsonObject { ["EveryHours"] = 0 };
            file["Batches"] = new JsonArray(new JsonObject
            {
                ["Id"] = "sloe",
                ["Name"] = "Sloe wine",
                ["Kind"] = "wine",
                ["VolumeLiters"] = 10,
                ["Inoculated"] = Noon.AddDays(-1).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture),
                ["OriginalGravity"] = 1.090,
            });
            configure(file);
        },
        clock,
        isDemo: false);

    /// <summary>Lets time pass in steps, with a little real time for the loops at each.</summary>
    private static Task PassUntilAsync(RunningService service, FakeTimeProvider clock, TimeSpan step, Func<bool> until, string what, Func<bool>? isReady = null) => Eventually.TrueAsync(
        () =>
        {
            if (until())
            {
                return true;
            }

            service.Services.GetRequiredService<PipelineSignals>().Facts.Set();
            if (isReady?.Invoke() ?? true)
            {
                clock.Advance(step);
            }

            return false;
        },
        what,
        Eventually.Deadline * 3);

    /// <summary>The same, in steps of half an interval, each only after the batches were looked at in the one before.</summary>
    private static Task LookUntilAsync(RunningService service, FakeTimeProvider clock, Func<bool> until, string what)
    {
        var board = service.Services.GetRequiredService<Board>();
        return PassUntilAsync(service, clock, HeartbeatLoop.Interval / 2, until, what, () => board.State.Snapshot.ComputedAt >= clock.GetUtcNow());
    }

    private static string Page(HttpClient client, string address) => WebUtility.HtmlDecode(client.GetStringAsync(address, Stop).GetAwaiter().GetResult());
}
