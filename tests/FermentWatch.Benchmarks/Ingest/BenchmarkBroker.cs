using System.Diagnostics;
using System.Net;
using System.Net.Sockets;

namespace FermentWatch.Benchmarks.Ingest;

/// <summary>A mosquitto of our own that queues without limit.</summary>
internal sealed class BenchmarkBroker : IAsyncDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("fermentwatch-bench-").FullName;
    private readonly Process _process;

    private BenchmarkBroker(int mostInFlight)
    {
        using (var listener = new TcpListener(IPAddress.Loopback, 0))
        {
            listener.Start();
            Port = ((IPEndPoint)listener.LocalEndpoint).Port;
        }

        var configuration = Path.Combine(_folder, "mosquitto.conf");
        File.WriteAllLines(
            configuration,
            [$"listener {Port} 127.0.0.1", "allow_anonymous true", "max_queued_messages 0", $"max_inflight_messages {mostInFlight}", "log_type error"]);
        var program = File.Exists("/usr/sbin/mosquitto") ? "/usr/sbin/mosquitto" : "mosquitto";
        _process = Process.Start(new ProcessStartInfo(program, ["-c", configuration])) ?? throw new InvalidOperationException("mosquitto did not start.");
    }

    public int Port { get; }

    public static async Task<BenchmarkBroker> StartAsync(int mostInFlight)
    {
        var broker = new BenchmarkBroker(mostInFlight);
        for (var tries = 0; tries < 500; tries++)
        {
            using var client = new TcpClient();
            try
            {
                await client.ConnectAsync(IPAddress.Loopback, broker.Port);
                return broker;
            }
            catch (SocketException)
            {
                await Task.Delay(10);
            }
        }

        throw new InvalidOperationException("mosquitto does not listen.");
    }

    public async ValueTask DisposeAsync()
    {
        _process.Kill();
        await _process.WaitForExitAsync();
        _process.Dispose();
        Directory.Delete(_folder, recursive: true);
    }
}
