using FermentWatch.Infrastructure.Influx;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;
using FermentWatch.System.Tests.Storage;
using Xunit;
using static FermentWatch.System.Tests.Storage.StoreOnDisk;

namespace FermentWatch.System.Tests.Influx;

/// <summary>Facts of an invented cellar, and what a copy of them must hold.</summary>
internal static class CopiedStore
{
    public static BatchId Heather { get; } = new("heather");

    public static InfluxCopier Copier(StoreOnDisk disk, InfluxTarget target) => new(disk.Store, target, SettingWords.QuantityWord, disk.Clock);

    /// <summary>Steps until nothing waits; the copy must never stop.</summary>
    public static async Task<long> CopyAllAsync(InfluxCopier copier)
    {
        var points = 0L;
        while (true)
        {
            var (result, isLast) = await copier.StepAsync(Stop);
            Assert.True(result.Trouble is null, result.Trouble?.ToString());
            Assert.Empty(result.SetAside);
            points += result.Points;
            if (isLast)
            {
                return points;
            }
        }
    }

    /// <summary>A sample a minute of each quantity of each sensor, from the start of the store on.</summary>
    public static async Task FillAsync(StoreOnDisk disk, int sensors, int minutes, int fromMinute = 0)
    {
        var rows = Enumerable.Range(fromMinute, minutes).SelectMany(minute => Enumerable.Range(1, sensors).Select(sensor => Row(sensor, minute)));
        await disk.Store.ImportAsync(rows, _ => { }, Stop);
    }

    public static async Task AddBatchAsync(StoreOnDisk disk)
    {
        var batch = new Batch(Heather, "Heather, \"the\" old", FermentKind.Mead, "Vessel = 3", null, At(0), null, null, null, ValueList.Of<SensorAttachment>());
        await disk.Store.ReplaceBatchesAsync([batch], Stop);
        Assert.True(await disk.Store.AttachSensorAsync(Heather, new SensorAttachment(GravitySeries.Sensor, At(0), null, Placement.InLiquid), Stop));
    }

    /// <summary>Keeps a forecast as the monitor does.</summary>
    public static async Task ForecastAsync(StoreOnDisk disk, double hours, double finalGravity, string? notYet = null)
    {
        var json = $$"""
            {"finalGravity":{"p05":{{finalGravity - 0.004}},"p25":{{finalGravity - 0.001}},"p50":{{finalGravity}},"p75":{{finalGravity + 0.001}},"p95":{{finalGravity + 0.004}}},
            "finish":{"p05":"{{At(hours + 24)}}","p25":"{{At(hours + 36)}}","p50":"{{At(hours + 48)}}","p75":null,"p95":null},"notYet":{{(notYet is null ? "null" : $"\"{notYet}\"")}},
            "phase":{"is":"Active","because":"phase-falling","fallPerDay":0.0081},"now":{"gravity":1.0421,"celsius":19.4,"alcoholPercent":7.1,"sugarGramsPerLiter":105.5},
            "gates":[{"gate":"Rack","met":1,"of":3},{"gate":"Bottle-DryAndFlat","met":6,"of":6}]}
            """;
        var record = new ForecastRecord(At(hours), "e1", "shipped-1", Arrival(hours), json);
        Assert.True(await disk.Store.CommitPassAsync(new PassResult(Heather, disk.Store.ReadBatch(Heather)!.Revision, Arrival(hours), null, [], record), Stop));
    }

    public static async Task AlertAsync(StoreOnDisk disk, EventTime? clearedAt)
    {
        const string key = "heather/temperature-band/leaning float/1";
        var set = AlertSet.Empty with
        {
            Alerts = ValueList.Of(new TrackedAlert(
                key, "temperature-band", "leaning float", Severity.Warning, At(1), At(2), clearedAt, clearedAt is null ? AlertStanding.Raised : AlertStanding.Cleared,
                AlertStanding.Raised, Arrival(2), TimeSpan.Zero, 1, 0, null, key, Reason.Of("any"))),
        };
        Assert.True(await disk.Store.CommitPassAsync(new PassResult(Heather, disk.Store.ReadBatch(Heather)!.Revision, Arrival(3), AlertJson.Write(set), [], null), Stop));
    }

    /// <summary>Series to count and sum of what counts: what the store holds.</summary>
    public static SortedDictionary<string, (long Count, double Sum)> Held(Store store) => new(
        store.ReadSeries().Select(one => (one.Series, Readings: store.ReadReadings(one.Series, new EventTime(long.MinValue / 2), new EventTime(long.MaxValue / 2))))
            .Where(one => one.Readings.Count > 0)
            .ToDictionary(one => Name(one.Series.Sensor.Value, SettingWords.QuantityWord(one.Series.Quantity)), one => ((long)one.Readings.Count, one.Readings.Sum(reading => reading.Value))));

    /// <summary>The same, as InfluxQL tells it.</summary>
    public static async Task<SortedDictionary<string, (long Count, double Sum)>> HeldAsync(InfluxOne server)
    {
        var rows = await server.QueryAsync($"SELECT count(value) AS n, sum(value) AS s FROM {PointNames.Reading} WHERE counts = 1 AND site = 'attic' GROUP BY sensor, quantity");
        return new(rows.ToDictionary(row => Name(row["sensor"].GetString()!, row["quantity"].GetString()!), row => (row["n"].GetInt64(), row["s"].GetDouble())));
    }

    public static void AssertSame(SortedDictionary<string, (long Count, double Sum)> held, SortedDictionary<string, (long Count, double Sum)> copied)
    {
        Assert.Equal(held.Select(one => (one.Key, one.Value.Count)), copied.Select(one => (one.Key, one.Value.Count)));
        foreach (var (series, (_, sum)) in held)
        {
            Assert.Equal(sum, copied[series].Sum, Math.Abs(sum) * 1e-9);
        }
    }

    private static string Name(string sensor, string quantity) => $"{sensor}/{quantity}";

    private static IReadOnlyList<ImportedReading> Row(int sensor, int minute)
    {
        // Whole minutes: fractions of an hour are cut to the microsecond before.
        var time = Start.AddMinutes(minute);
        var (at, arrival) = (EventTime.From(time), ReceivedAt.From(time));
        var name = new SensorId($"float {sensor}");
        var gravity = Math.Round(1.090 - (minute * 0.00001) - (sensor * 0.0001), 5);
        var temperature = Math.Round(19 + Math.Sin(minute / 200.0), 3);
        return
        [
            new(new DecodedField(name, QuantityKind.Gravity, MeasurementUnit.SpecificGravity, gravity, gravity, at), at, arrival, true),
            new(new DecodedField(name, QuantityKind.Temperature, MeasurementUnit.DegreesCelsius, temperature, temperature, at), at, arrival, true),
        ];
    }
}
