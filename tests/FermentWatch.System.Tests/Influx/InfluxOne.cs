using System.Text.Json;
using FermentWatch.Infrastructure.Influx;
using FermentWatch.System.Tests.Mqtt;
using Xunit;

namespace FermentWatch.System.Tests.Influx;

/// <summary>A real influxdb 1.6: it judges lines as version 2 does and answers InfluxQL, but takes writes under another path.</summary>
internal sealed class InfluxOne : IAsyncDisposable
{
    private readonly ServerProcess _process;
    private readonly HttpClient _http = new();

    private InfluxOne(ServerProcess process, int port) => (_process, Port) = (process, port);

    public const string Database = "cellar";

    public int Port { get; }

    public static CancellationToken Stop => TestContext.Current.CancellationToken;

    public Uri Url => new($"http://127.0.0.1:{Port}");

    public InfluxSettings Settings => new(Url, "home", Database, "attic") { FirstPause = TimeSpan.FromMilliseconds(1) };

    public static async Task<InfluxOne> StartAsync()
    {
        var folder = Directory.CreateTempSubdirectory("fermentwatch-influxdb-").FullName;
        var (port, other) = (FreePort.Take(), FreePort.Take());
        await File.WriteAllTextAsync(
            Path.Combine(folder, "influxdb.conf"),
            $"""
            reporting-disabled = true
            bind-address = "127.0.0.1:{other}"
            [meta]
              dir = "{folder}/meta"
            [data]
              dir = "{folder}/data"
              wal-dir = "{folder}/wal"
              query-log-enabled = false
            [http]
              bind-address = "127.0.0.1:{port}"
              log-enabled = false
            [monitor]
              store-enabled = false
            """,
            Stop);
        var server = new InfluxOne(await ServerProcess.StartAsync("influxd", folder, port, "-config", "{folder}/influxdb.conf"), port);
        await server.ChangeAsync($"CREATE DATABASE {Database}");
        return server;
    }

    public InfluxTarget Target(Func<InfluxSettings, InfluxSettings>? with = null) =>
        new(with is null ? Settings : with(Settings), TimeProvider.System, new VersionOnePath());

    public void Kill() => _process.Kill();

    public Task StartAgainAsync() => _process.StartAgainAsync(Port);

    /// <summary>Runs a statement of InfluxQL that changes something.</summary>
    public async Task ChangeAsync(string statement)
    {
        using var content = new FormUrlEncodedContent([new("q", statement)]);
        using var answer = await _http.PostAsync(new Uri(Url, "query"), content, Stop);
        var text = await answer.Content.ReadAsStringAsync(Stop);
        Assert.True(answer.IsSuccessStatusCode && !text.Contains("\"error\"", StringComparison.Ordinal), text);
    }

    /// <summary>Runs a query of InfluxQL; rows as column to value, with the tags of their group among the columns.</summary>
    public async Task<IReadOnlyList<IReadOnlyDictionary<string, JsonElement>>> QueryAsync(string query)
    {
        var address = new Uri(Url, $"query?db={Database}&epoch=ns&q={Uri.EscapeDataString(query)}");
        using var answer = await _http.GetAsync(address, Stop);
        var text = await answer.Content.ReadAsStringAsync(Stop);
        Assert.True(answer.IsSuccessStatusCode, $"{query}: {text}");
        using var json = JsonDocument.Parse(text);
        var rows = new List<IReadOnlyDictionary<string, JsonElement>>();
        foreach (var result in json.RootElement.GetProperty("results").EnumerateArray())
        {
            Assert.False(result.TryGetProperty("error", out var error), $"{query}: {error}");
            if (result.TryGetProperty("series", out var all))
            {
                rows.AddRange(all.EnumerateArray().SelectMany(Rows));
            }
        }

        return rows;
    }

    /// <summary>Writes one line past the product and returns the status.</summary>
    public async Task<int> WriteRawAsync(string line)
    {
        using var content = new StringContent(line);
        using var answer = await _http.PostAsync(new Uri(Url, $"write?db={Database}&precision=n"), content, Stop);
        return (int)answer.StatusCode;
    }

    public async ValueTask DisposeAsync()
    {
        _http.Dispose();
        await _process.DisposeAsync();
    }

    private static IEnumerable<IReadOnlyDictionary<string, JsonElement>> Rows(JsonElement series)
    {
        var columns = series.GetProperty("columns").EnumerateArray().Select(column => column.GetString()!).ToList();
        foreach (var values in series.GetProperty("values").EnumerateArray())
        {
            var row = new Dictionary<string, JsonElement>(StringComparer.Ordinal);
            if (series.TryGetProperty("tags", out var tags))
            {
                foreach (var tag in tags.EnumerateObject())
                {
                    row[tag.Name] = tag.Value.Clone();
                }
            }

            for (var at = 0; at < columns.Count; at++)
            {
                row[columns[at]] = values[at].Clone();
            }

            yield return row;
        }
    }

    /// <summary>Version 1 has the same write API under the path and the names of its time.</summary>
    private sealed class VersionOnePath : DelegatingHandler
    {
        protected override Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
        {
            var query = global::System.Web.HttpUtility.ParseQueryString(request.RequestUri!.Query);
            Assert.Equal("/api/v2/write", request.RequestUri.AbsolutePath);
            Assert.Equal("ns", query["precision"]);
            request.RequestUri = new Uri(request.RequestUri, $"/write?db={Uri.EscapeDataString(query["bucket"]!)}&precision=n");
            return base.SendAsync(request, cancellationToken);
        }
    }
}
