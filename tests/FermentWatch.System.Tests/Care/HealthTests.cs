using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using FermentWatch.Service.Care;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Mqtt;
using Microsoft.Extensions.Logging;
using Xunit;

namespace FermentWatch.System.Tests.Care;

public sealed class HealthTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task BrokerThatGoes_TakesReadinessAndComesBackWithIt()
    {
        await using var broker = await Mosquitto.StartAsync();
        await using var service = await RunningService.StartAsync(file => file["Broker"] = new JsonObject
        {
            ["Mode"] = "external",
            ["External"] = new JsonObject { ["Host"] = "127.0.0.1", ["Port"] = broker.Port },
        });
        using var client = new HttpClient { BaseAddress = service.Page };
        await Eventually.TrueAsync(() => service.Broker.IsUp, "the broker is connected");
        var up = await ReadyAsync(client);
        Assert.Equal((HttpStatusCode.OK, true), (up.Status, up.Ready));
        Assert.Equal(["broker", "storage", "judging", "readings", "outbox", "backup"], up.Checks.Keys);

        broker.Kill();
        await Eventually.TrueAsync(() => !service.Broker.IsUp, "the loss is noticed");
        var down = await ReadyAsync(client);
        Assert.Equal((HttpStatusCode.ServiceUnavailable, false, "failing"), (down.Status, down.Ready, down.Checks["broker"].Condition));
        Assert.Contains("No message can reach", down.Checks["broker"].Says, StringComparison.Ordinal);
        Assert.Equal("alive", await client.GetStringAsync("healthz", Stop));

        await broker.StartAgainAsync();
        await Eventually.TrueAsync(() => service.Broker.IsUp, "it is connected again");
        Assert.True((await ReadyAsync(client)).Ready);
    }

    [Fact]
    public void LossAndReturn_AreOneLineEach()
    {
        var log = new KeptLog();
        using var loop = new HealthLoop(null!, TimeProvider.System, log);
        HealthReport Report(Condition broker, Condition backup) => new([new("broker", broker, "why"), new("backup", backup, "why not")]);
        foreach (var (broker, backup) in new[]
        {
            (Condition.Ok, Condition.Ok), (Condition.Failing, Condition.Ok), (Condition.Failing, Condition.Attention), (Condition.Failing, Condition.Attention),
            (Condition.Ok, Condition.Attention), (Condition.Ok, Condition.Ok), (Condition.Ok, Condition.Ok),
        })
        {
            loop.Tell(Report(broker, backup));
        }

        Assert.Equal(["Error: Lost: broker: why", "Warning: Lost: backup: why not", "Information: Back: broker: why", "Information: Back: backup: why not"], log.Lines);
    }

    [Fact]
    public async Task Metrics_AreForTheTokenAloneAndCountWhatCame()
    {
        await using var closed = await RunningService.StartAsync(_ => { });
        using (var client = new HttpClient { BaseAddress = closed.Page })
        {
            Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync("metrics", Stop)).StatusCode);
        }

        await using var service = await RunningService.StartAsync(file =>
        {
            file["Metrics"] = new JsonObject { ["Token"] = "canary-metrics" };
            file["Topics"] = new JsonArray(RunningService.Topic("cellar/carboy3", "carboy3", null, (null, "gravity", "SG")));
        });
        using var collector = new HttpClient { BaseAddress = service.Page };
        Assert.Equal(HttpStatusCode.Unauthorized, (await collector.GetAsync("metrics", Stop)).StatusCode);
        collector.DefaultRequestHeaders.Authorization = new("Bearer", "canary-metric");
        Assert.Equal(HttpStatusCode.Unauthorized, (await collector.GetAsync("metrics", Stop)).StatusCode);
        collector.DefaultRequestHeaders.Authorization = new("Bearer", "canary-metrics");
        foreach (var payload in new[] { "1.050", "1.049", "nonsense" })
        {
            Assert.Equal(0, (await Mosquitto.PublishAsync(service.BrokerPort, "-q", "1", "-t", "cellar/carboy3", "-m", payload)).ExitCode);
        }

        await Eventually.TrueAsync(() => service.Store.ReadCounts() is { Waiting: 0, FieldsRejected: 1, ReadingsStored: 2 }, "the messages are read");
        var text = await collector.GetStringAsync("metrics", Stop);
        Assert.Equal(3, Value(text, "fermentwatch_messages_received_total"));
        Assert.Equal(2, Value(text, "fermentwatch_messages_accepted_total"));
        Assert.Equal(1, Value(text, "fermentwatch_messages_rejected_total"));
        Assert.Equal(0, Value(text, "fermentwatch_messages_redelivered_total"));
        Assert.Equal(2, Value(text, "fermentwatch_readings_stored_total"));
        var reason = Assert.Single(service.Store.ReadCounts().RejectedByReason).Key;
        Assert.Equal(1, Value(text, $"fermentwatch_fields_rejected_total{{reason=\"{reason}\"}}"));
        Assert.Equal((1, 1, 0), (Value(text, "fermentwatch_broker_up"), Value(text, "fermentwatch_storage_writable"), Value(text, "fermentwatch_outbox_waiting")));
        Assert.True(Value(text, "fermentwatch_commit_seconds_count") >= 3);
        Assert.Equal(0, Value(text, "fermentwatch_alerts{severity=\"urgent\",state=\"open\"}"));
        Assert.DoesNotContain("canary", text, StringComparison.Ordinal);
    }

    private static double Value(string text, string name) => double.Parse(
        text.Split('\n').Single(line => line.StartsWith(name + " ", StringComparison.Ordinal))[(name.Length + 1)..], global::System.Globalization.CultureInfo.InvariantCulture);

    private static async Task<(HttpStatusCode Status, bool Ready, Dictionary<string, (string Condition, string Says)> Checks)> ReadyAsync(HttpClient client)
    {
        using var answer = await client.GetAsync("readyz", Stop);
        using var json = JsonDocument.Parse(await answer.Content.ReadAsStringAsync(Stop));
        var checks = json.RootElement.GetProperty("checks").EnumerateArray()
            .ToDictionary(check => check.GetProperty("name").GetString()!, check => (check.GetProperty("condition").GetString()!, check.GetProperty("says").GetString()!));
        return (answer.StatusCode, json.RootElement.GetProperty("ready").GetBoolean(), checks);
    }

    private sealed class KeptLog : ILogger<HealthLoop>
    {
        public List<string> Lines { get; } = [];

        public IDisposable? BeginScope<TState>(TState state)
            where TState : notnull => null;

        public bool IsEnabled(LogLevel logLevel) => true;

        public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?, string> formatter) =>
            Lines.Add($"{logLevel}: {formatter(state, exception)}");
    }
}
