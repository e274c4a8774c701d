using System.Diagnostics;
using System.Globalization;
using System.Text.Json.Nodes;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Access;
using FermentWatch.Service.Pipeline;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.InOut;
using FermentWatch.System.Tests.Mqtt;
using FermentWatch.System.Tests.Storage;
using Xunit;

namespace FermentWatch.System.Tests.Pages;

/// <summary>The whole service with twenty invented batches: one under way for a week, one too warm with an open alert, one silent for days, others without a reading; messages that could not be read; lists that are empty.</summary>
internal sealed class FullCellar : IAsyncDisposable
{
    // Yesterday: a browser drops a sign-in whose end lies behind its own clock.
    public static readonly DateTimeOffset Start = new(DateTime.UtcNow.Date.AddDays(-1).AddHours(6), TimeSpan.Zero);

    private static readonly string[] Names =
    [
        "Sloe wine", "Quince mead", "Heather, dry", "Elderberry No. 2", "Damson wine", "Rhubarb and rose", "Back Fence white", "Bramble wine",
        "Rowan and honey", "Pear, late", "A wine whose name is as long as a label of a bottle allows", "Medlar", "Gooseberry", "Birch", "Cherry, sour",
        "Apple, wild", "Ginger mead", "Blackcurrant", "Plum wine", "Hedgerow",
    ];

    private FullCellar(RunningService service) => Service = service;

    public RunningService Service { get; }

    /// <summary>Opens the tasting of the only bench trial, which is the first.</summary>
    public const string GuestCode = "ABCDE-FGHJK";

    /// <summary>Key of the batch with readings, events and a plan.</summary>
    public const string Busy = "batch-1";

    public static async Task<FullCellar> StartAsync()
    {
        var clock = new DemoClock(Start);
        var service = await RunningService.StartAsync(
            file =>
            {
                file["Topics"] = new JsonArray(
                    RunningService.Topic("cellar/+/state", "{1}", "/at", ("/gravity", "gravity", "SG"), ("/celsius", "temperature", "°C")));
                file["Batches"] = new JsonArray([.. Names.Select((name, i) => Batch(i, name))]);
            },
            clock);
        var cellar = new FullCellar(service);
        var week = Enumerable.Range(0, 84).Select(i => Start - TimeSpan.FromHours(168 - (2 * i)));
        await cellar.SendAsync(1, week.Select(at => (at, (double?)(1.092 - (0.0004 * (at - Start.AddHours(-168)).TotalHours)), 19.5)));
        await cellar.SendAsync(3, Enumerable.Range(0, 60).Select(i => (Start - TimeSpan.FromHours(190 - (2 * i)), (double?)(1.088 - (0.0005 * i)), 18.5)));
        await cellar.SendRawAsync("cellar/float-7/state", ["{\"gravity\": \"1,042\"} <b>", "no reading at all", "{\"gravity\": 9.7, \"at\": \"" + Text(Start.AddMinutes(-1)) + "\"}"]);
        await cellar.SendAsync(2, Enumerable.Range(0, 6).Select(i => (Start.AddMinutes(-90 + (10 * i)), (double?)1.05, 20.0)));
        for (var minute = 0; minute <= 60; minute += 10)
        {
            clock.MoveTo(Start.AddMinutes(minute));
            await cellar.SendAsync(2, [(Start.AddMinutes(minute), 1.05, 26.5)]);
            await cellar.SendAsync(1, [(Start.AddMinutes(minute), 1.0248, 19.6)]);
            await Eventually.TrueAsync(() => service.Store.ReadCounts().ReadingsStored >= 300 + (4 * minute / 10), () => $"{service.Store.ReadCounts()}");
        }

        await Eventually.TrueAsync(
            () => service.Store.ReadAlertSet(new BatchId("batch-2")) is { } json && AlertJson.ReadSet(json).Alerts.Any(alert => alert.Standing is AlertStanding.Raised),
            "no alert was raised",
            TimeSpan.FromMinutes(5));
        var trial = await service.Store.AddTrialAsync(new BatchId(Busy), TrialSamples.Sugar(), TestContext.Current.CancellationToken);
        await service.Store.ChangeTrialAsync(trial, was => was with { State = TrialState.Tasting }, TestContext.Current.CancellationToken);
        await service.Store.OpenTastingAsync(trial, Secrets.Hash(GuestCode), "sealed", ReceivedAt.From(Start.AddHours(6)), TestContext.Current.CancellationToken);
        return cellar;
    }

    /// <summary>A time as an address or a file has it.</summary>
    public static string Text(DateTimeOffset time) => time.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    public async ValueTask DisposeAsync() => await Service.DisposeAsync();

    private static JsonObject Batch(int i, string name)
    {
        var batch = CellarWithBatch.Batch($"batch-{i + 1}", name, Text(Start.AddDays(i is 0 or 2 ? -8 : -1)), i < 12 ? $"float-{i + 1}" : null);
        batch["Kind"] = i % 3 == 1 ? "mead" : "wine";
        return batch;
    }

    private Task SendAsync(int sensor, IEnumerable<(DateTimeOffset At, double? Gravity, double Celsius)> readings) => SendRawAsync(
        $"cellar/float-{sensor}/state",
        readings.Select(one => string.Create(CultureInfo.InvariantCulture, $"{{\"at\":\"{one.At:yyyy-MM-dd'T'HH:mm:ss'Z'}\",\"gravity\":{one.Gravity:0.0000},\"celsius\":{one.Celsius:0.0}}}")));

    private async Task SendRawAsync(string topic, IEnumerable<string> payloads)
    {
        using var process = Process.Start(new ProcessStartInfo(
            "mosquitto_pub", ["-h", "127.0.0.1", "-p", Service.BrokerPort.ToString(CultureInfo.InvariantCulture), "-q", "1", "-t", topic, "-l"])
        { RedirectStandardInput = true })!;
        foreach (var payload in payloads)
        {
            await process.StandardInput.WriteLineAsync(payload);
        }

        process.StandardInput.Close();
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.Equal(0, process.ExitCode);
    }
}
