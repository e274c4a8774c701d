using System.Text.Json;
using FermentWatch.Infrastructure.Influx;
using FermentWatch.System.Tests.Mqtt;

namespace FermentWatch.System.Tests.Influx;

/// <summary>A real server that takes the write API of InfluxDB 2 as it is.</summary>
internal sealed class VictoriaServer : IAsyncDisposable
{
    private readonly ServerProcess _process;
    private readonly HttpClient _http = new();

    private VictoriaServer(ServerProcess process, int port) => (_process, Port) = (process, port);

    public int Port { get; }

    public Uri Url => new($"http://127.0.0.1:{Port}");

    public InfluxSettings Settings => new(Url, "home", "cellar", "attic") { FirstPause = TimeSpan.FromMilliseconds(1) };

    public static async Task<VictoriaServer> StartAsync()
    {
        var folder = Directory.CreateTempSubdirectory("fermentwatch-victoria-").FullName;
        var port = FreePort.Take();
        return new VictoriaServer(
            await ServerProcess.StartAsync(
                "victoria-metrics", folder, port, $"-httpListenAddr=127.0.0.1:{port}", "-storageDataPath={folder}/data", "-retentionPeriod=100y", "-dedup.minScrapeInterval=1ms"),
            port);
    }

    /// <summary>Ends it as its own shutdown does: a kill would lose what it has in memory only.</summary>
    public Task EndAsync() => _process.EndAsync();

    public Task StartAgainAsync() => _process.StartAgainAsync(Port);

    /// <summary>Every sample of the metrics that a selector names, by its labels: milliseconds and value.</summary>
    public async Task<IReadOnlyList<(IReadOnlyDictionary<string, string> Labels, IReadOnlyList<(long At, double Value)> Samples)>> ExportAsync(string selector)
    {
        await _http.GetAsync(new Uri(Url, "internal/force_flush"), InfluxOne.Stop);
        var text = await _http.GetStringAsync(new Uri(Url, "api/v1/export?reduce_mem_usage=0&match[]=" + Uri.EscapeDataString(selector)), InfluxOne.Stop);
        return [.. text.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(Read)];
    }

    public async ValueTask DisposeAsync()
    {
        _http.Dispose();
        await _process.DisposeAsync();
    }

    private static (IReadOnlyDictionary<string, string> Labels, IReadOnlyList<(long At, double Value)> Samples) Read(string line)
    {
        using var json = JsonDocument.Parse(line);
        var labels = json.RootElement.GetProperty("metric").EnumerateObject().ToDictionary(label => label.Name, label => label.Value.GetString()!);
        var times = json.RootElement.GetProperty("timestamps").EnumerateArray().Select(time => time.GetInt64());
        var values = json.RootElement.GetProperty("values").EnumerateArray().Select(value => value.GetDouble());
        return (labels, [.. times.Zip(values)]);
    }
}
