using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using FermentWatch.Infrastructure.Mqtt;
using Microsoft.Extensions.Logging.Abstractions;
using MQTTnet;
using MQTTnet.Protocol;

namespace FermentWatch.Benchmarks.Ingest;

/// <summary>
/// Committed readings per second at quality of service 1, as a ratio to receiving alone, both measured in one run. Live: a device publishes
/// through mosquitto as fast as it is taken, all on this machine. Backlog: a queue that the broker kept is drained, which favors receiving
/// alone, since no publisher needs the processor. Receiving alone is the library's own client with automatic acknowledgement and nothing else.
/// </summary>
internal static class IngestFigure
{
    private const int Messages = 20_000;
    private const int Rounds = 3;
    private const double Bar = 0.3;
    private const int InFlight = 64;

    public static async Task<int> RunAsync()
    {
        List<double> receiveLive = [], readLive = [], receiveBacklog = [], readBacklog = [], embedded = [];
        for (var round = 0; round < Rounds; round++)
        {
            receiveLive.Add(await ReceiveOnlyAsync(live: true));
            readLive.Add(await CommittedAsync(live: true));
            receiveBacklog.Add(await ReceiveOnlyAsync(live: false));
            readBacklog.Add(await CommittedAsync(live: false));
            embedded.Add(await EmbeddedAsync());
        }

        var ratio = Median(readLive) / Median(receiveLive);
        var ratioOfBacklog = Median(readBacklog) / Median(receiveBacklog);
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"ingest, {Messages} messages at quality of service 1, median of {Rounds}:"));
        Print("mosquitto, live, receive only", Median(receiveLive));
        Print("mosquitto, live, committed readings", Median(readLive));
        Print("mosquitto, backlog, receive only", Median(receiveBacklog));
        Print("mosquitto, backlog, committed readings", Median(readBacklog));
        Print("embedded broker, committed readings, 4 devices", Median(embedded));
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"committed readings to receive only: live {ratio:F2} (bar {Bar}), backlog {ratioOfBacklog:F2}"));
        return ratio >= Bar ? 0 : 1;
    }

    private static void Print(string what, double rate) => Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {what,-48} {rate,8:F0} /s"));

    private static double Median(List<double> values) => values.Order().ElementAt(values.Count / 2);

    private static async Task<double> ReceiveOnlyAsync(bool live)
    {
        await using var broker = await BenchmarkBroker.StartAsync(InFlight);
        using var client = new MqttClientFactory().CreateMqttClient();
        var options = new MqttClientOptionsBuilder()
            .WithTcpServer("127.0.0.1", broker.Port)
            .WithProtocolVersion(MQTTnet.Formatter.MqttProtocolVersion.V500)
            .WithClientId("bench")
            .WithCleanStart(false)
            .WithSessionExpiryInterval(3600)
            .Build();
        await client.ConnectAsync(options);
        await client.SubscribeAsync("cellar/+/sg", MqttQualityOfServiceLevel.AtLeastOnce);
        var received = 0;
        var done = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        client.ApplicationMessageReceivedAsync += _ =>
        {
            if (Interlocked.Increment(ref received) == Messages)
            {
                done.SetResult();
            }

            return Task.CompletedTask;
        };
        if (!live)
        {
            await client.DisconnectAsync();
            await BulkPublisher.PublishAsync(broker.Port, "pail", Messages);
        }

        var began = Stopwatch.GetTimestamp();
        await (live ? BulkPublisher.PublishAsync(broker.Port, "pail", Messages) : client.ConnectAsync(options));
        await done.Task;
        return Messages / Stopwatch.GetElapsedTime(began).TotalSeconds;
    }

    private static async Task<double> CommittedAsync(bool live)
    {
        await using var broker = await BenchmarkBroker.StartAsync(InFlight);
        await using var pipeline = new Pipeline();
        await pipeline.StartAsync();
        if (!live)
        {
            await ServeAsync(broker, pipeline, Connected);
            await BulkPublisher.PublishAsync(broker.Port, "pail", Messages);
        }

        var began = live ? 0 : Stopwatch.GetTimestamp();
        var publishing = Task.CompletedTask;
        await ServeAsync(broker, pipeline, client =>
        {
            if (began == 0 && Connected(client))
            {
                began = Stopwatch.GetTimestamp();
                publishing = BulkPublisher.PublishAsync(broker.Port, "pail", Messages);
            }

            return client.Status.Recorded >= Messages && pipeline.IsDecodedUpTo(Messages);
        });
        await publishing;
        return Messages / Stopwatch.GetElapsedTime(began).TotalSeconds;
    }

    private static bool Connected(ExternalBrokerClient client) => client.Status.State == BrokerConnectionState.Connected;

    private static async Task ServeAsync(BenchmarkBroker broker, Pipeline pipeline, Func<ExternalBrokerClient, bool> until)
    {
        var options = new ExternalBrokerOptions { Host = "127.0.0.1", Port = broker.Port, ClientId = "bench" };
        var client = new ExternalBrokerClient(
            options, Pipeline.Interest, pipeline.RecordAsync, pipeline.Store.ConfirmAcknowledgedAsync, TimeProvider.System, NullLogger.Instance);
        using var stop = new CancellationTokenSource();
        var running = client.RunAsync(stop.Token);
        while (!until(client))
        {
            await Task.Delay(2);
        }

        await stop.CancelAsync();
        await running;
    }

    private static async Task<double> EmbeddedAsync()
    {
        await using var pipeline = new Pipeline();
        int port;
        using (var listener = new TcpListener(IPAddress.Loopback, 0))
        {
            listener.Start();
            port = ((IPEndPoint)listener.LocalEndpoint).Port;
        }

        await using var broker = new EmbeddedBroker(
            new EmbeddedBrokerOptions { Port = port }, Pipeline.Interest, pipeline.RecordAsync, pipeline.Store.ConfirmAcknowledgedAsync, TimeProvider.System, NullLogger.Instance);
        await broker.StartAsync(CancellationToken.None);
        await pipeline.StartAsync();
        var began = Stopwatch.GetTimestamp();
        await Task.WhenAll(Enumerable.Range(0, 4).Select(device => BulkPublisher.PublishAsync(port, $"pail{device}", Messages / 4)));
        while (!pipeline.IsDecodedUpTo(Messages))
        {
            await Task.Delay(2);
        }

        return Messages / Stopwatch.GetElapsedTime(began).TotalSeconds;
    }
}
