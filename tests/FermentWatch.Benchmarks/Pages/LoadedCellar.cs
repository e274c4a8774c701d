using System.Net;
using System.Net.Sockets;
using System.Text.Json.Nodes;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard;
using FermentWatch.Service.Pipeline;
using FermentWatch.Simulation;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;

namespace FermentWatch.Benchmarks.Pages;

/// <summary>The whole service over a store with simulated ferments, each a batch with its readings up to now.</summary>
internal sealed class LoadedCellar : IAsyncDisposable
{
    private static readonly FermentFamily[] Families = Enum.GetValues<FermentFamily>();
    private readonly WebApplication _app;
    private readonly Store _store;
    private readonly string _folder;

    private LoadedCellar(WebApplication app, Store store, string folder) => (_app, _store, _folder) = (app, store, folder);

    /// <summary>Root of the pages.</summary>
    public Uri Page => new(_app.Urls.First() + "/");

    public IServiceProvider Services => _app.Services;

    /// <summary>Readings in the store.</summary>
    public long Readings { get; private set; }

    /// <summary>Key of a batch.</summary>
    public static string KeyOf(int number) => FormattableString.Invariant($"vessel-{number}");

    /// <summary>Simulates, stores, starts, and waits until every batch stands on the board.</summary>
    public static async Task<LoadedCellar> StartAsync(int batches, int seed, TextWriter progress)
    {
        var folder = Directory.CreateTempSubdirectory("fermentwatch-pages-").FullName;
        await File.WriteAllTextAsync(Path.Combine(folder, SettingsLoader.FileName), new JsonObject
        {
            [nameof(Page)] = new JsonObject { ["Address"] = "http://127.0.0.1:0", ["Zone"] = "UTC" },
            ["Broker"] = new JsonObject { ["Embedded"] = new JsonObject { ["Port"] = FreePort() } },
            ["Backup"] = new JsonObject { ["EveryHours"] = 0 },
        }.ToJsonString());
        var read = SettingsLoader.Load(folder, new Dictionary<string, string?>(), new Dictionary<string, string?>());
        var settings = read.Settings ?? throw new InvalidOperationException(string.Join("; ", read.Errors));
        var store = Store.Open(new StoreOptions(folder), TimeProvider.System, NullLogger<Store>.Instance);
        var now = DateTimeOffset.UtcNow;
        var ferments = new (Batch Batch, List<ImportedReading> Readings)[batches];
        Parallel.For(0, batches, i => ferments[i] = Ferment(i, seed + i, now));
        await store.ReplaceBatchesAsync([.. ferments.Select(ferment => ferment.Batch)], CancellationToken.None);
        var counts = await store.ImportAsync(ferments.SelectMany(ferment => ferment.Readings).Chunk(1000), _ => { }, CancellationToken.None);
        progress.WriteLine($"{batches} batches, {counts.Stored} readings stored");
        var app = ServiceComposition.Build(settings, store, new ServiceIdentity(IsDemo: false), TimeProvider.System);
        await app.StartAsync();
        var cellar = new LoadedCellar(app, store, folder) { Readings = counts.Stored };
        var board = app.Services.GetRequiredService<Board>();
        app.Services.GetRequiredService<PipelineSignals>().Touch([.. ferments.Select(ferment => ferment.Batch.Id)]);
        while (board.State.Snapshot.Entries.Count(entry => entry.View.Gravity.Count > 0) < batches)
        {
            await Task.Delay(TimeSpan.FromMilliseconds(500));
        }

        progress.WriteLine($"{board.State.Snapshot.Entries.Count(entry => entry.View.Forecast is not null)} forecasts stand on the board");
        return cellar;
    }

    public async ValueTask DisposeAsync()
    {
        await _app.StopAsync();
        await _app.DisposeAsync();
        await _store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    // Between 3 and 33 days old, so that every phase of a ferment is among them.
    private static (Batch Batch, List<ImportedReading> Readings) Ferment(int number, int seed, DateTimeOffset now)
    {
        var ferment = FermentSimulator.Run(FamilyDraw.Of(Families[number % Families.Length], KineticStructure.Cells, seed), seed);
        var age = TimeSpan.FromDays(3 + (number % 31));
        var pitched = now - age;
        var sensor = new SensorId(FormattableString.Invariant($"float-{number}"));
        var readings = new List<ImportedReading>();
        foreach (var reading in ferment.Readings.Where(reading => reading.ArrivedHours < age.TotalHours && !reading.Redelivered))
        {
            var at = EventTime.From(pitched.AddHours(reading.HoursSinceInoculation));
            var received = ReceivedAt.From(pitched.AddHours(reading.ArrivedHours));
            Add(QuantityKind.Gravity, reading.SpecificGravity, MeasurementUnit.SpecificGravity);
            Add(QuantityKind.Temperature, reading.Celsius, MeasurementUnit.DegreesCelsius);

            void Add(QuantityKind quantity, double? value, MeasurementUnit unit)
            {
                if (value is { } amount)
                {
                    readings.Add(new ImportedReading(new DecodedField(sensor, quantity, unit, amount, amount, null), at, received, true));
                }
            }
        }

        var first = ferment.Readings.First(reading => reading.SpecificGravity is not null).SpecificGravity!.Value;
        var batch = new Batch(
            new BatchId(KeyOf(number)),
            FormattableString.Invariant($"Vessel number {number}"),
            (FermentKind)(1 + (number % 3)),
            FormattableString.Invariant($"Vessel {number}"),
            Volume.FromLiters(19),
            EventTime.From(pitched),
            SpecificGravity.FromRatio(Math.Clamp(first, 1.03, 1.15)),
            new TemperatureBand(Temperature.FromCelsius(16), Temperature.FromCelsius(24)),
            AlcoholByVolume.FromPercent(14),
            ValueList.Of(new SensorAttachment(sensor, EventTime.From(pitched), null, Placement.InLiquid)));
        return (batch, readings);
    }
}
