using System.Globalization;
using System.Text.Json.Nodes;
using FermentWatch.System.Tests.EndToEnd;
using FermentWatch.System.Tests.Mqtt;
using Parquet;
using Parquet.Schema;
using Xunit;

namespace FermentWatch.System.Tests.InOut;

public sealed class ParquetTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task BatchAsParquet_HoldsEveryReadingWithItsTimesAndUnits()
    {
        await using var service = await RunningService.StartAsync(file =>
        {
            file["Topics"] = new JsonArray(RunningService.Topic("cellar/carboy3", "carboy, 'three'", "/at", ("/sg", "gravity", "SG"), ("/f", "temperature", "°F")));
            file["Batches"] = new JsonArray(CellarWithBatch.Batch("sloe", "Sloe wine", "2026-03-01T08:00:00Z", "carboy, 'three'"));
        });
        var start = DateTimeOffset.UtcNow.AddHours(-3);
        for (var i = 0; i < 5; i++)
        {
            var at = start.AddMinutes(i * 10).ToString("yyyy-MM-ddTHH:mm:ss.ffffffZ", CultureInfo.InvariantCulture);
            var payload = string.Create(CultureInfo.InvariantCulture, $$"""{"sg":{{1.05 - (i / 1000.0)}},"f":68,"at":"{{at}}"}""");
            Assert.Equal(0, (await Mosquitto.PublishAsync(service.BrokerPort, "-q", "1", "-t", "cellar/carboy3", "-m", payload)).ExitCode);
        }

        await Eventually.TrueAsync(() => service.Store.ReadCounts().ReadingsStored == 10, "the readings are stored");
        using var client = new HttpClient { BaseAddress = service.Page };
        byte[] bytes = [];
        await Eventually.TrueAsync(() => (bytes = FetchAsync(client).GetAwaiter().GetResult()).Length > 0, "the batch is on the board");

        await using var reader = await ParquetReader.CreateAsync(new MemoryStream(bytes), cancellationToken: Stop);
        using var group = reader.OpenRowGroupReader(0);
        DataField Field(string name) => reader.Schema.GetDataFields().Single(field => field.Name == name);
        var (times, values, quantities, units) = (new DateTime[10], new double[10], new string[10], new string[10]);
        await group.ReadAsync<DateTime>(Field("time"), times, cancellationToken: Stop);
        await group.ReadAsync<double>(Field("value"), values, cancellationToken: Stop);
        await group.ReadAsync(Field("quantity"), quantities, cancellationToken: Stop);
        await group.ReadAsync(Field("unit"), units, cancellationToken: Stop);
        var gravity = Enumerable.Range(0, 10).Where(row => quantities[row] == "gravity").ToList();
        Assert.Equal([1.05, 1.049, 1.048, 1.047, 1.046], gravity.Select(row => Math.Round(values[row], 6)));
        Assert.Equal(Enumerable.Range(0, 5).Select(i => start.AddMinutes(i * 10).UtcDateTime.Ticks / 10), gravity.Select(row => times[row].Ticks / 10));
        // 68 °F is 20 °C by definition of the scales.
        Assert.Equal(Enumerable.Repeat(("temperature", "°C", 20.0), 5), Enumerable.Range(0, 10).Except(gravity).Select(row => (quantities[row], units[row], Math.Round(values[row], 9))));
    }

    private static async Task<byte[]> FetchAsync(HttpClient client)
    {
        using var answer = await client.GetAsync("batch/sloe/readings.parquet", Stop);
        return answer.IsSuccessStatusCode ? await answer.Content.ReadAsByteArrayAsync(Stop) : [];
    }
}
