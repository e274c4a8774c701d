using System.Text.Json;
using System.Text.RegularExpressions;
using FermentWatch.Infrastructure.Influx;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.System.Tests.Storage;
using Xunit;
using static FermentWatch.System.Tests.Influx.CopiedStore;
using static FermentWatch.System.Tests.Storage.StoreOnDisk;

namespace FermentWatch.System.Tests.Influx;

/// <summary>Every query of the boards, run against what the copier wrote.</summary>
public sealed partial class DashboardQueryTests
{
    private const int Columns = 24;

    private static readonly string Boards = Path.Combine(AppContext.BaseDirectory, "ReferenceData", "boards");

    public static TheoryData<string> Files => [.. Directory.GetFiles(Boards, "*.json").Select(file => Path.GetFileName(file)!).Order(StringComparer.Ordinal)];

    [Fact]
    public async Task EveryQuery_FindsWhatWasCopied()
    {
        await using var server = await InfluxOne.StartAsync();
        await using var disk = Open();
        await CellarAsync(disk);
        using var target = server.Target();
        var copier = Copier(disk, target);
        await CopyAllAsync(copier);
        for (var sample = 0; sample < 3; sample++)
        {
            disk.Clock.Advance(TimeSpan.FromMinutes(20));
            Assert.True(await copier.SampleAsync(Stop));
        }

        var queries = 0;
        foreach (var file in Directory.GetFiles(Boards, "*.json"))
        {
            foreach (var (where, query) in Queries(file))
            {
                var rows = await server.QueryAsync(Filled(query));
                Assert.True(rows.Count > 0, $"{Path.GetFileName(file)}, {where} finds nothing: {Filled(query)}");
                Assert.True(rows.Any(row => row.Any(column => column.Key != "time" && column.Value.ValueKind != JsonValueKind.Null)), $"{where} finds only empty values.");
                queries++;
            }
        }

        Assert.True(queries >= 40, $"Only {queries} queries were found.");
        await DocumentationNamesEverythingAsync(server);
        await FiguresAreThoseOfTheStoreAsync(server, disk);
    }

    [Theory]
    [MemberData(nameof(Files))]
    public void Board_HasPartsThatFitAndNamesItsUnits(string name)
    {
        using var json = JsonDocument.Parse(File.ReadAllText(Path.Combine(Boards, name)));
        var root = json.RootElement;
        var panels = root.GetProperty("panels").EnumerateArray().ToList();
        Assert.Equal(panels.Count, panels.Select(panel => panel.GetProperty("id").GetInt32()).Distinct().Count());
        var taken = new HashSet<(int, int)>();
        foreach (var panel in panels)
        {
            var place = panel.GetProperty("gridPos");
            int Of(string key) => place.GetProperty(key).GetInt32();
            Assert.InRange(Of("x") + Of("w"), 1, Columns);
            foreach (var cell in Enumerable.Range(0, Of("w") * Of("h")).Select(at => (Of("x") + (at % Of("w")), Of("y") + (at / Of("w")))))
            {
                Assert.True(taken.Add(cell), $"{panel.GetProperty("title")} lies on another panel.");
            }

            if (panel.GetProperty("type").GetString() != "text")
            {
                Assert.NotEmpty(panel.GetProperty("title").GetString()!);
                Assert.NotEmpty(panel.GetProperty("fieldConfig").GetProperty("defaults").GetProperty("unit").GetString()!);
            }
        }

        var known = root.GetProperty("templating").GetProperty("list").EnumerateArray().Select(variable => variable.GetProperty("name").GetString()!)
            .Concat(["timeFilter", "__interval"]).ToList();
        foreach (var (where, query) in Queries(Path.Combine(Boards, name)))
        {
            Assert.All(Variable().Matches(query), match => Assert.True(known.Contains(match.Groups[1].Value), $"{where}: ${match.Groups[1].Value} is no variable of this board."));
        }
    }

    /// <summary>Batteries and signals, a clock that is not trusted, a reading set aside, a batch with forecasts, gates and alerts.</summary>
    private static async Task CellarAsync(StoreOnDisk disk)
    {
        await FillAsync(disk, sensors: 2, minutes: 180);
        await AddBatchAsync(disk);
        for (var hour = 0; hour < 6; hour++)
        {
            await disk.ReadingAsync(1.06 - (hour * 0.001), At(hour), hour);
            await ForecastAsync(disk, hour, 1.006);
        }

        // Two years back: the device's clock is not believed.
        await disk.ReadingAsync(1.05, At(-24 * 730), 6);
        var others = new[] { (QuantityKind.Battery, MeasurementUnit.Volts, 3.7), (QuantityKind.Signal, MeasurementUnit.DecibelMilliwatts, -71.0), (QuantityKind.Temperature, MeasurementUnit.DegreesCelsius, 19.5) };
        await disk.Store.ImportAsync(
            [.. others.Select(one => (IReadOnlyList<ImportedReading>)[new(new DecodedField(GravitySeries.Sensor, one.Item1, one.Item2, one.Item3, one.Item3, At(1)), At(1), Arrival(1), true)])],
            _ => { },
            Stop);
        var id = await disk.Store.AddMappingAsync(Mapping("/sg"), Stop);
        // Another field was meant, and the message of the old readings has none: they are set aside.
        await disk.Store.ChangeSourceAsync(id, Mapping("/other"), Mapping("/other").Fields[0], Stop);
        await disk.ReadingAsync(1.055, At(6.5), 6.5);
        await AlertAsync(disk, clearedAt: At(5));
    }

    private static TopicMapping Mapping(string pointer) => new(
        GravitySeries.Sensor.Value,
        TopicFilter.Parse("cellar/d1/gravity"),
        ValueList.Of(new FieldMapping(JsonPointer.Parse(pointer), QuantityKind.Gravity, MeasurementUnit.SpecificGravity)),
        null);

    private static async Task FiguresAreThoseOfTheStoreAsync(InfluxOne server, StoreOnDisk disk)
    {
        AssertSame(Held(disk.Store), await HeldAsync(server));
        var readings = Queries(Path.Combine(Boards, "what-comes-in.json")).Single(one => one.Where == "Readings in ten minutes").Query;
        var rows = await server.QueryAsync(Filled(readings));
        var first = rows.Where(row => row["sensor"].GetString() == "float 1" && row["count"].GetInt64() > 0).ToList();
        // 180 minutes of two quantities, in eighteen stretches of ten minutes.
        Assert.Equal(Enumerable.Repeat(20L, 18), first.Select(row => row["count"].GetInt64()));
    }

    private static async Task DocumentationNamesEverythingAsync(InfluxOne server)
    {
        var page = await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "ReferenceData", "influx.md"), Stop);
        foreach (var measurement in PointNames.All)
        {
            var row = page.Split('\n').SingleOrDefault(line => line.StartsWith($"| `{measurement}` |", StringComparison.Ordinal));
            Assert.True(row is not null, $"influx.md tells nothing of {measurement}.");
            var keys = (await server.QueryAsync($"SHOW FIELD KEYS FROM {measurement}")).Select(key => key["fieldKey"].GetString()!)
                .Concat((await server.QueryAsync($"SHOW TAG KEYS FROM {measurement}")).Select(key => key["tagKey"].GetString()!).Where(key => key != "site"));
            Assert.All(keys, key => Assert.Contains($"`{key}`", row, StringComparison.Ordinal));
        }
    }

    private static IEnumerable<(string Where, string Query)> Queries(string file)
    {
        using var json = JsonDocument.Parse(File.ReadAllText(file));
        var root = json.RootElement.Clone();
        foreach (var variable in root.GetProperty("templating").GetProperty("list").EnumerateArray())
        {
            yield return ("variable " + variable.GetProperty("name").GetString(), variable.GetProperty("query").GetString()!);
        }

        foreach (var annotation in root.GetProperty("annotations").GetProperty("list").EnumerateArray())
        {
            yield return (annotation.GetProperty("name").GetString()!, annotation.GetProperty("target").GetProperty("query").GetString()!);
        }

        foreach (var panel in root.GetProperty("panels").EnumerateArray().Where(panel => panel.TryGetProperty("targets", out _)))
        {
            foreach (var target in panel.GetProperty("targets").EnumerateArray())
            {
                Assert.Equal("fermentwatch", target.GetProperty("datasource").GetProperty("uid").GetString());
                yield return (panel.GetProperty("title").GetString()!, target.GetProperty("query").GetString()!);
            }
        }
    }

    /// <summary>As the dashboard server fills it in: all sites and sensors, one batch.</summary>
    private static string Filled(string query) => query
        .Replace("$timeFilter", $"time >= '{At(-1)}' AND time <= '{At(30)}'", StringComparison.Ordinal)
        .Replace("$__interval", "15m", StringComparison.Ordinal)
        .Replace("$site", ".*", StringComparison.Ordinal)
        .Replace("$sensor", ".*", StringComparison.Ordinal)
        .Replace("$batch", "heather", StringComparison.Ordinal);

    [GeneratedRegex(@"\$([A-Za-z_]+)")]
    private static partial Regex Variable();
}
