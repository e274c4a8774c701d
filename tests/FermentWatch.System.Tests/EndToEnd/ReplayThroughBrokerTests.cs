using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard;
using FermentWatch.Service.Pipeline;
using FermentWatch.System.Tests.Mqtt;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace FermentWatch.System.Tests.EndToEnd;

/// <summary>A whole ferment, published through a real mosquitto, becomes a batch with its curve. Source of the data: ReferenceData/replays.</summary>
public sealed class ReplayThroughBrokerTests(ITestOutputHelper output)
{
    private const string Folder = "ReferenceData/replays/s23";

    private readonly JsonDocument _meta = JsonDocument.Parse(File.ReadAllText(Folder + "/meta.json"));
    private readonly JsonDocument _truth = JsonDocument.Parse(File.ReadAllText(Folder + "/truth.json"));
    private readonly List<(string Time, string Gravity, string Celsius)> _rows =
        [.. File.ReadLines(Folder + "/readings.csv").Skip(1).Select(line => line.Split(',')).Select(cells => (cells[1], cells[2], cells[3]))];

    [Fact]
    public async Task FermentThroughMosquitto_EndsAsABatchWithItsCurve_AndShuffledAndDoubledInTheSameView()
    {
        var ordered = await StoreAsync(_rows);
        const int Seed = 20261006;
        var end = new EventTime(ordered.Now.UnixMicroseconds);
        var view = BatchAnalysis.View(ordered.Snapshot.Facts, ViewSettings.Default, PriorSnapshot.Shipped, end);
        output.WriteLine($"messages {_rows.Count}, readings stored {ordered.Stored}, gravity stored {view.GravityCounts.Stored}, set aside {view.GravityCounts.SetAside}");

        // The true end is 0.001 inside the 9-in-10 range by the end of the data; at half of the sugar the range holds it or says 'not yet'.
        var truth = _truth.RootElement.GetProperty("fg").GetDouble();
        Report("end", view.Forecast!, truth);
        Assert.InRange(truth, view.Forecast!.FinalGravity.P05.Value - 0.001, view.Forecast.FinalGravity.P95.Value + 0.001);
        Assert.True(Math.Abs(view.Forecast.FinalGravity.P50.Value - truth) < 0.004, $"final gravity {view.Forecast.FinalGravity.P50.Value}, truth {truth}");
        var half = view.Batch.InoculatedAt + TimeSpan.FromHours(_truth.RootElement.GetProperty("frac_times_h").GetProperty("50").GetDouble());
        var atHalf = BatchAnalysis.View(ordered.Snapshot.Facts, ViewSettings.Default, PriorSnapshot.Shipped, half).Forecast!;
        Report("half", atHalf, truth);
        Assert.True(atHalf.NotYet is not null || (atHalf.FinalGravity.P05.Value <= truth && truth <= atHalf.FinalGravity.P95.Value), "the range at half misses the truth");

        // Readings of one instant keep their order, for of two values at one device time the later one counts.
        var random = new Random(Seed);
        var shuffled = _rows.GroupBy(row => DateTimeOffset.Parse(row.Time, CultureInfo.InvariantCulture))
            .OrderBy(_ => random.Next())
            .SelectMany(rows => rows)
            .SelectMany(row => new[] { row, row })
            .ToList();
        var mixed = await StoreAsync(shuffled);
        var again = BatchAnalysis.View(mixed.Snapshot.Facts, ViewSettings.Default, PriorSnapshot.Shipped, end);
        output.WriteLine($"shuffled with seed {Seed} and doubled: messages {shuffled.Count}, readings stored {mixed.Stored}");
        Assert.True(view == again, $"the view of the shuffled and doubled messages (seed {Seed}) differs: {FirstDifference(view, again)}");
    }

    [Fact]
    public async Task SameRowsThroughMosquittoAndThroughTheBacktest_GiveTheSameForecast()
    {
        var recording = Service.Backtest.ReplayFolder.Load(Folder);
        var clock = new DemoClock(recording.Batch.InoculatedAt.ToDateTimeOffset());
        await using var mosquitto = await Mosquitto.StartAsync();
        await using var service = await RunningService.StartAsync(file => Configure(file, mosquitto.Port), clock);
        await Eventually.TrueAsync(() => service.Broker.IsUp, () => $"not connected: {service.Broker.State}");
        await using var publisher = new RawPublisher("replay", 5, mosquitto.Port);
        Assert.True(await publisher.TryConnectAsync());
        var board = service.Services.GetRequiredService<Board>();
        var sent = 0;
        foreach (var cut in new[] { recording.Cuts[6], recording.Cuts[14], recording.Cuts[^1] })
        {
            clock.MoveTo(cut.At.ToDateTimeOffset());
            for (; sent < cut.Rows; sent++)
            {
                var (time, gravity, celsius) = _rows[sent];
                await publisher.PublishAsync("replay/s23", $"{{\"time\":\"{time}\",\"gravity\":{gravity},\"celsius\":{celsius}}}");
            }

            var replayed = Service.Backtest.Predictor.View(recording, cut);
            BatchView? Live() => board.State.Snapshot.Find("s23")?.View;
            await Eventually.TrueAsync(
                () => Live() is { } view && view.Now == cut.At && view.GravityCounts == replayed.GravityCounts,
                () => $"cut {cut.Number}: the board has {Live()?.GravityCounts} as of {Live()?.Now}, the backtest {replayed.GravityCounts}");
            var live = Live()!;
            output.WriteLine($"cut {cut.Number} with {cut.Rows} rows: {live.GravityCounts}, {live.Forecast!.FinalGravity.P50.Value}");
            Assert.Equal(replayed.Forecast, live.Forecast);
            Assert.Equal(replayed.Phase, live.Phase);
            Assert.Equal(replayed.Stop, live.Stop);
            Assert.Equal(replayed.Gravity, live.Gravity);
        }
    }

    private async Task<(BatchSnapshotOf Snapshot, int Stored, ReceivedAt Now)> StoreAsync(List<(string Time, string Gravity, string Celsius)> rows)
    {
        // The clock stands a day after the data: a device that was out of reach delivers all of it at once.
        var pitched = _meta.RootElement.GetProperty("pitched").GetDateTimeOffset();
        var clock = new DemoClock(pitched.AddHours(_truth.RootElement.GetProperty("end_h").GetDouble() + 24));
        await using var mosquitto = await Mosquitto.StartAsync();
        await using var service = await RunningService.StartAsync(file => Configure(file, mosquitto.Port), clock);
        await Eventually.TrueAsync(() => service.Broker.IsUp, () => $"not connected: {service.Broker.State}");
        await using var publisher = new RawPublisher("replay", 5, mosquitto.Port);
        Assert.True(await publisher.TryConnectAsync());
        foreach (var (time, gravity, celsius) in rows)
        {
            await publisher.PublishAsync("replay/s23", $"{{\"time\":\"{time}\",\"gravity\":{gravity},\"celsius\":{celsius}}}");
        }

        await Eventually.TrueAsync(
            () => service.Store.ReadCounts() is { Waiting: 0 } counts && counts.Messages.Values.Sum() + counts.Redelivered >= rows.Count,
            () => $"{service.Store.ReadCounts()}");
        var snapshot = service.Store.ReadBatch(new BatchId("s23"))!;
        return (new BatchSnapshotOf(snapshot.Facts), (int)service.Store.ReadCounts().ReadingsStored, ReceivedAt.From(clock.GetUtcNow()));
    }

    private void Configure(JsonObject file, int brokerPort)
    {
        var meta = _meta.RootElement;
        var unit = meta.GetProperty("gravity_unit").GetString() switch { "sg" => "SG", "points" => "points", "plato" => "°P", _ => "kg/m³" };
        file["Broker"] = new JsonObject
        {
            ["Mode"] = "external",
            ["External"] = new JsonObject { ["Host"] = "127.0.0.1", ["Port"] = brokerPort },
        };
        file["Topics"] = new JsonArray(RunningService.Topic("replay/+", "{1}", "/time", ("/gravity", "gravity", unit), ("/celsius", "temperature", "°C")));
        file["Batches"] = new JsonArray(new JsonObject
        {
            ["Id"] = "s23",
            ["Name"] = "Replay",
            ["Kind"] = meta.GetProperty("kind").GetString(),
            ["Inoculated"] = meta.GetProperty("pitched").GetString(),
            ["OriginalGravity"] = meta.GetProperty("declared_og").GetDouble(),
            ["TolerancePercent"] = meta.GetProperty("declared_tolerance_abv").GetDouble(),
            ["BandLowCelsius"] = meta.GetProperty("temp_range_c")[0].GetDouble(),
            ["BandHighCelsius"] = meta.GetProperty("temp_range_c")[1].GetDouble(),
            ["Sensors"] = new JsonArray(new JsonObject { ["Sensor"] = "s23" }),
        });
    }

    private void Report(string when, GravityForecast forecast, double truth) => output.WriteLine(string.Create(
        CultureInfo.InvariantCulture,
        $"forecast at {when}: {forecast.FinalGravity.P50.Value:F4} ({forecast.FinalGravity.P05.Value:F4} to {forecast.FinalGravity.P95.Value:F4}, {forecast.NotYet?.Code ?? "determined"}), truth {truth:F4}"));

    private static string FirstDifference(BatchView one, BatchView other) => string.Join(
        ", ",
        typeof(BatchView).GetProperties().Where(property => !Equals(property.GetValue(one), property.GetValue(other))).Select(property => property.Name));

    private sealed record BatchSnapshotOf(BatchFacts Facts);
}
