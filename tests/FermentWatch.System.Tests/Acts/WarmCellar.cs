using System.Globalization;
using System.Text.Json.Nodes;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Service.Dashboard;
using FermentWatch.Service.Pipeline;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Mqtt;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace FermentWatch.System.Tests.Acts;

/// <summary>The whole service with one batch whose sensor tells of an hour inside the band and an hour above it, on a clock that stands where the test puts it.</summary>
internal sealed class WarmCellar : IAsyncDisposable
{
    public static readonly DateTimeOffset Start = new(2026, 10, 6, 6, 0, 0, TimeSpan.Zero);
    private readonly DemoClock _clock;
    private int _sent;

    private WarmCellar(RunningService service, DemoClock clock) => (Service, _clock) = (service, clock);

    public RunningService Service { get; }

    public TrackedAlert Alert => Alerts.Single();

    public IReadOnlyList<TrackedAlert> Alerts =>
        Service.Store.ReadAlertSet(new BatchId("sloe")) is { } json ? [.. AlertJson.ReadSet(json).Alerts] : [];

    public static async Task<WarmCellar> StartAsync(Action<JsonObject> configure, double celsius)
    {
        var clock = new DemoClock(Start);
        var service = await RunningService.StartAsync(
            file =>
            {
                file["Topics"] = new JsonArray(RunningService.Topic("cellar/one", "float-1", null, ("/celsius", "temperature", "°C")));
                file["Batches"] = new JsonArray(new JsonObject
                {
                    ["Id"] = "sloe",
                    ["Name"] = "Sloe wine",
                    ["Kind"] = "wine",
                    ["Inoculated"] = "2026-10-06T05:00:00Z",
                    ["OriginalGravity"] = 1.090,
                    ["BandLowCelsius"] = 18,
                    ["BandHighCelsius"] = 22,
                    ["Sensors"] = new JsonArray(new JsonObject { ["Sensor"] = "float-1" }),
                });
                configure(file);
            },
            clock);
        var cellar = new WarmCellar(service, clock);
        await cellar.SendAsync(0, 60, 20);
        await cellar.SendAsync(70, 120, celsius);
        await Eventually.TrueAsync(() => cellar.Alerts.Any(alert => alert.Told is AlertStanding.Raised), "no alert was raised");
        return cellar;
    }

    /// <summary>A reading every ten minutes, each stored before the next; the last one is seen by a pass.</summary>
    public async Task SendAsync(int from, int to, double celsius)
    {
        for (var minute = from; minute <= to; minute += 10)
        {
            _clock.MoveTo(Start.AddMinutes(minute));
            var payload = string.Create(CultureInfo.InvariantCulture, $"{{\"celsius\":{celsius}}}");
            var (exit, complaint) = await Mosquitto.PublishAsync(Service.BrokerPort, "-q", "1", "-t", "cellar/one", "-m", payload);
            Assert.True(exit == 0, complaint);
            _sent++;
            await Eventually.TrueAsync(() => Service.Store.ReadCounts().ReadingsStored == _sent, () => $"{Service.Store.ReadCounts()}");
        }

        await Eventually.TrueAsync(() => Service.Services.GetRequiredService<Board>().State.Snapshot.ComputedAt >= Start.AddMinutes(to), "no pass at the last reading");
    }

    public async ValueTask DisposeAsync() => await Service.DisposeAsync();
}
