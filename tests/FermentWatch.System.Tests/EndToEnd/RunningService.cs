using System.Text.Json.Nodes;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Pipeline;
using FermentWatch.System.Tests.Mqtt;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using Xunit;

namespace FermentWatch.System.Tests.EndToEnd;

/// <summary>The whole service as it runs for a user, in this process: a configuration file, a data directory, free ports.</summary>
internal sealed class RunningService : IAsyncDisposable
{
    private readonly WebApplication _app;
    private readonly string _folder;

    private RunningService(WebApplication app, Store store, string folder, int brokerPort)
    {
        (_app, Store, _folder, BrokerPort) = (app, store, folder, brokerPort);
    }

    public Store Store { get; }

    public int BrokerPort { get; }

    /// <summary>The data directory.</summary>
    public string Folder => _folder;

    public Uri Page => new(_app.Urls.First() + "/");

    public IServiceProvider Services => _app.Services;

    public BrokerLink Broker => _app.Services.GetRequiredService<BrokerLink>();

    /// <param name="configure">Fills the configuration file beyond the ports.</param>
    /// <param name="clock">The service's clock; null for the real one.</param>
    /// <param name="isDemo">Whether it is the demo, which does not watch itself; null for one with a clock of its own.</param>
    public static async Task<RunningService> StartAsync(Action<JsonObject> configure, TimeProvider? clock = null, bool? isDemo = null)
    {
        var folder = Directory.CreateTempSubdirectory("fermentwatch-service-").FullName;
        var port = FreePort.Take();
        var file = new JsonObject
        {
            [nameof(Page)] = new JsonObject { ["Address"] = "http://127.0.0.1:0", ["Zone"] = "UTC" },
            [nameof(Broker)] = new JsonObject { ["Embedded"] = new JsonObject { ["Port"] = port } },
            // Relays of the tests are on this machine.
            ["Outgoing"] = new JsonObject { ["Networks"] = "this-machine" },
            ["Alerts"] = new JsonObject { ["QuietFrom"] = "00:00", ["QuietUntil"] = "00:00" },
        };
        configure(file);
        await File.WriteAllTextAsync(Path.Combine(folder, SettingsLoader.FileName), file.ToJsonString(), TestContext.Current.CancellationToken);
        var read = SettingsLoader.Load(folder, new Dictionary<string, string?>(), new Dictionary<string, string?>());
        Assert.Empty(read.Errors);
        var time = clock ?? TimeProvider.System;
        var store = Store.Open(new StoreOptions(folder), time, NullLogger<Store>.Instance);
        var app = ServiceComposition.Build(read.Settings!, store, new ServiceIdentity(IsDemo: isDemo ?? clock is not null), time);
        await store.ReplaceBatchesAsync(read.Settings!.Batches, TestContext.Current.CancellationToken);
        await app.StartAsync(TestContext.Current.CancellationToken);
        return new RunningService(app, store, folder, port);
    }

    /// <summary>A topic with a plain or JSON field for each of gravity and temperature.</summary>
    public static JsonObject Topic(string filter, string sensor, string? time, params (string? Pointer, string Quantity, string Unit)[] fields)
    {
        var list = new JsonArray();
        foreach (var (pointer, quantity, unit) in fields)
        {
            var field = new JsonObject { ["Quantity"] = quantity, ["Unit"] = unit };
            if (pointer is not null)
            {
                field["Pointer"] = pointer;
            }

            list.Add(field);
        }

        var topic = new JsonObject { ["Filter"] = filter, ["Sensor"] = sensor, ["Fields"] = list };
        if (time is not null)
        {
            topic["Time"] = new JsonObject { ["Pointer"] = time, ["Format"] = "iso8601" };
        }

        return topic;
    }

    public async ValueTask DisposeAsync()
    {
        using var atOnce = new CancellationTokenSource(TimeSpan.FromSeconds(10));
        await _app.StopAsync(atOnce.Token);
        await _app.DisposeAsync();
        await Store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }
}
