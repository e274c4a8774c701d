using System.Diagnostics;
using System.Text.Json;
using System.Text.Json.Nodes;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.InOut;
using Xunit;

namespace FermentWatch.System.Tests.Mqtt;

/// <summary>Phases and forecasts at a broker, as a stranger hears them who subscribes later.</summary>
public sealed class StatesTests
{
    [Fact]
    public async Task EmbeddedBroker_KeepsPhaseAndForecastForWhoeverComesLater()
    {
        await using var service = await RunningService.StartAsync(file =>
        {
            Cellar(file);
            file["Topics"] = new JsonArray(RunningService.Topic("cellar/carboy3", "carboy3", null, (null, "gravity", "SG")));
        });
        Assert.Equal(0, (await Mosquitto.PublishAsync(service.BrokerPort, "-q", "1", "-t", "cellar/carboy3", "-m", "1.0421")).ExitCode);

        await AssertToldAsync(service.BrokerPort);
        Assert.Equal(1, service.Store.ReadCounts().Messages.Values.Sum() + service.Store.ReadCounts().Waiting);
    }

    [Fact]
    public async Task ExternalBroker_KeepsThemAndTheyAreNeverReadAsReadings()
    {
        await using var broker = await Mosquitto.StartAsync();
        await using var service = await RunningService.StartAsync(file =>
        {
            Cellar(file);
            file["Broker"] = new JsonObject { ["Mode"] = "external", ["External"] = new JsonObject { ["Host"] = "127.0.0.1", ["Port"] = broker.Port } };
            file["Topics"] = new JsonArray(RunningService.Topic("#", "carboy3", null, (null, "gravity", "SG")));
        });
        await Eventually.TrueAsync(() => service.Broker.IsUp, "the broker is connected");
        Assert.Equal(0, (await Mosquitto.PublishAsync(broker.Port, "-q", "1", "-t", "cellar/carboy3", "-m", "1.0421")).ExitCode);
        await Eventually.TrueAsync(() => service.Store.ReadCounts().ReadingsStored == 1, "the reading is stored");

        await AssertToldAsync(broker.Port);
        // Ours came back through the wide subscription before this one did.
        Assert.Equal(0, (await Mosquitto.PublishAsync(broker.Port, "-q", "1", "-t", "cellar/carboy3", "-m", "1.0420")).ExitCode);
        await Eventually.TrueAsync(() => service.Store.ReadCounts().ReadingsStored == 2, "the second reading is stored");
        Assert.Equal((2, 0), (service.Store.ReadCounts().Messages.Values.Sum(), service.Store.ReadCounts().FieldsRejected));
    }

    private static void Cellar(JsonObject file)
    {
        file["States"] = new JsonObject { ["Site"] = "attic" };
        file["Batches"] = new JsonArray(CellarWithBatch.Batch("sloe", "Sloe wine", DateTimeOffset.UtcNow.AddDays(-1).ToString("yyyy-MM-ddTHH:mm:ssZ", global::System.Globalization.CultureInfo.InvariantCulture), "carboy3"));
    }

    private static async Task AssertToldAsync(int port)
    {
        Dictionary<string, JsonElement> heard = [];
        await Eventually.TrueAsync(
            () => (heard = HearAsync(port).GetAwaiter().GetResult()).Count == 2,
            () => $"both are told; heard were {string.Join(", ", heard.Keys)}");
        var phase = heard["fermentwatch/state/attic/sloe/phase"];
        Assert.Equal(("sloe", "Sloe wine"), (phase.GetProperty("batch").GetString(), phase.GetProperty("name").GetString()));
        Assert.True(Enum.TryParse<Phase>(phase.GetProperty("phase").GetString(), out _));
        var forecast = heard["fermentwatch/state/attic/sloe/forecast"];
        Assert.False(forecast.GetProperty("determined").GetBoolean());
        Assert.NotEmpty(forecast.GetProperty("not_yet").GetString()!);
        var gravity = forecast.GetProperty("final_gravity_sg");
        Assert.True(gravity.GetProperty("p05").GetDouble() < gravity.GetProperty("p50").GetDouble() && gravity.GetProperty("p50").GetDouble() < gravity.GetProperty("p95").GetDouble());
    }

    /// <summary>What is retained there now.</summary>
    private static async Task<Dictionary<string, JsonElement>> HearAsync(int port)
    {
        var start = new ProcessStartInfo("mosquitto_sub", ["-h", "127.0.0.1", "-p", $"{port}", "-t", "fermentwatch/state/#", "-F", "%t %p", "-C", "2", "-W", "2"]) { RedirectStandardOutput = true };
        using var process = Process.Start(start)!;
        var text = await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        return text.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => line.Split(' ', 2)).ToDictionary(pair => pair[0], pair => JsonDocument.Parse(pair[1]).RootElement.Clone());
    }
}
