using FermentWatch.Infrastructure.Influx;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using Xunit;
using static FermentWatch.System.Tests.Influx.CopiedStore;
using static FermentWatch.System.Tests.Storage.StoreOnDisk;
using DecodedMessage = FermentWatch.Infrastructure.Storage.DecodedMessage;

namespace FermentWatch.System.Tests.Influx;

/// <summary>What the store holds, held against what a real influxdb says it was told.</summary>
public sealed class CopyTests
{
    [Fact]
    public async Task ReadingsOfEveryKind_AreThereOnceWithTheValueThatHolds()
    {
        await using var server = await InfluxOne.StartAsync();
        await using var disk = Open();
        using var target = server.Target();
        var copier = Copier(disk, target);
        // Before the copier began, and after.
        await disk.ReadingAsync(1.0900, At(0), 0);
        await CopyAllAsync(copier);
        await disk.ReadingAsync(1.0880, At(1), 1);
        await disk.ReadingAsync(1.0881, At(1), 1.5);
        await disk.ReadingAsync(1.0860, null, 2);
        await disk.ReadingAsync(1.0850, null, 2);
        await disk.ReadingAsync(1.0840, At(-24 * 400), 3);
        await disk.ReadingAsync(1.0830, At(2.5), 4);
        await CopyAllAsync(copier);

        AssertSame(Held(disk.Store), await HeldAsync(server));
        Assert.Equal(6, Held(disk.Store).Single().Value.Count);
        var corrected = await server.QueryAsync($"SELECT value, counts, delay_seconds FROM {PointNames.Reading} WHERE time = {At(1).UnixMicroseconds}000");
        Assert.Equal(1.0881, Assert.Single(corrected)["value"].GetDouble());
        Assert.Equal(1800, corrected[0]["delay_seconds"].GetDouble());
        var untrusted = await server.QueryAsync($"SELECT value FROM {PointNames.Reading} WHERE clock_trusted = 0");
        Assert.Equal(disk.Readings().Count(reading => !reading.ClockTrusted), untrusted.Count);
    }

    [Fact]
    public async Task Repeats_ChangeNothing()
    {
        await using var server = await InfluxOne.StartAsync();
        await using var disk = Open();
        using var target = server.Target();
        await FillAsync(disk, sensors: 3, minutes: 50);
        var points = await CopyAllAsync(Copier(disk, target));
        Assert.Equal(300, points);

        // Another target of the same name: the copy begins anew, over the same series and times.
        await disk.Store.FollowChangesAsync(null, Stop);
        Assert.Equal(300, await CopyAllAsync(Copier(disk, target)));

        AssertSame(Held(disk.Store), await HeldAsync(server));
    }

    [Fact]
    public async Task CursorOnDisk_GoesOnAfterARestartAndWithAnotherSiteAnew()
    {
        await using var server = await InfluxOne.StartAsync();
        await using var disk = Open();
        using var target = server.Target();
        await FillAsync(disk, 2, 10);
        Assert.Equal(40, await CopyAllAsync(Copier(disk, target)));
        await FillAsync(disk, 2, 5, fromMinute: 10);
        await disk.RestartAsync();
        await FillAsync(disk, 2, 5, fromMinute: 15);

        Assert.Equal(40, await CopyAllAsync(Copier(disk, target)));
        Assert.Equal(0, disk.Store.ReadChangeBacklog().Changes);
        AssertSame(Held(disk.Store), await HeldAsync(server));

        using var other = server.Target(settings => settings with { Site = "barn" });
        Assert.Equal(80, await CopyAllAsync(Copier(disk, other)));
        Assert.Equal(80, (await server.QueryAsync($"SELECT count(value) AS n FROM {PointNames.Reading} WHERE site = 'barn'"))[0]["n"].GetInt64());
    }

    [Fact]
    public async Task ReadingsThatMoveToAnotherSeries_LeaveTheOldOne()
    {
        await using var server = await InfluxOne.StartAsync();
        await using var disk = Open();
        using var target = server.Target();
        var copier = Copier(disk, target);
        var id = await disk.Store.AddMappingAsync(Mapping(MeasurementUnit.SpecificGravity), Stop);
        for (var hour = 0; hour < 4; hour++)
        {
            var receipt = await disk.RecordAsync(Message("x", 0, hours: hour));
            // One with a time of its own, one without: each is known by another place within its microsecond.
            var field = new DecodedField(GravitySeries.Sensor, QuantityKind.Gravity, MeasurementUnit.SpecificGravity, 1.02 + (hour / 1000.0), 1.02 + (hour / 1000.0), hour % 2 == 0 ? At(hour) : null);
            await disk.Store.CommitDecodedAsync([new DecodedMessage(receipt.Sequence, [field], [])], receipt.Sequence, Stop);
        }

        await CopyAllAsync(copier);
        var change = new UnitChange(GravitySeries, MeasurementUnit.SpecificGravity, MeasurementUnit.DegreesCelsius);
        Assert.True(await disk.Store.ChangeUnitAsync(id, Mapping(MeasurementUnit.DegreesCelsius), change, Stop));
        await disk.Store.ApplyUnitChangesAsync(Stop);
        await CopyAllAsync(copier);

        AssertSame(Held(disk.Store), await HeldAsync(server));
        Assert.Equal("leaning float/temperature", Held(disk.Store).Single().Key);
        Assert.Equal(4, (await server.QueryAsync($"SELECT value FROM {PointNames.Reading} WHERE counts = 0 AND quantity = 'gravity'")).Count);
    }

    [Fact]
    public async Task ForecastPhaseGatesAlertsAndNames_AreThereAsTheyWereSaid()
    {
        await using var server = await InfluxOne.StartAsync();
        await using var disk = Open();
        using var target = server.Target();
        var copier = Copier(disk, target);
        await AddBatchAsync(disk);
        await ForecastAsync(disk, 1, 1.006, notYet: "too-few-points");
        await CopyAllAsync(copier);
        await ForecastAsync(disk, 2, 1.004);
        await AlertAsync(disk, clearedAt: null);
        await CopyAllAsync(copier);
        await AlertAsync(disk, clearedAt: At(5));
        await CopyAllAsync(copier);

        var forecasts = await server.QueryAsync($"SELECT final_gravity_p50, finish_days_p50, finish_days_p95, determined, not_yet FROM {PointNames.Forecast} WHERE batch = 'heather'");
        Assert.Equal([1.006, 1.004], forecasts.Select(row => row["final_gravity_p50"].GetDouble()));
        Assert.Equal([2.0, 2.0], forecasts.Select(row => row["finish_days_p50"].GetDouble()));
        Assert.Equal([0, 1], forecasts.Select(row => row["determined"].GetInt32()));
        Assert.Equal("too-few-points", forecasts[0]["not_yet"].GetString());
        Assert.DoesNotContain("finish_days_p95", (await server.QueryAsync($"SHOW FIELD KEYS FROM {PointNames.Forecast}")).Select(row => row["fieldKey"].GetString()));
        var phase = (await server.QueryAsync($"SELECT * FROM {PointNames.Phase} LIMIT 1"))[0];
        Assert.Equal(("Active", 8.1, 1.0421, 19.4), (phase["phase"].GetString(), Math.Round(phase["fall_points_per_day"].GetDouble(), 6), phase["gravity"].GetDouble(), phase["temperature"].GetDouble()));
        var gates = await server.QueryAsync($"SELECT last(open) AS open, last(met) AS met FROM {PointNames.Gate} GROUP BY gate");
        Assert.Equal([("Bottle-DryAndFlat", 1), ("Rack", 0)], gates.Select(row => (row["gate"].GetString(), row["open"].GetInt32())));
        var alerts = await server.QueryAsync($"SELECT what, stands, severity FROM {PointNames.Alert} WHERE rule = 'temperature-band'");
        Assert.Equal([("raised", 1, "Warning"), ("cleared", 0, "Warning")], alerts.Select(row => (row["what"].GetString(), row["stands"].GetInt32(), row["severity"].GetString())));
        var place = (await server.QueryAsync($"SELECT last(batch_name) AS batch_name, vessel FROM {PointNames.Batch} GROUP BY batch, sensor"))[0];
        Assert.Equal(("heather", "leaning float", "Heather, \"the\" old", "Vessel = 3"), (place["batch"].GetString(), place["sensor"].GetString(), place["batch_name"].GetString(), place["vessel"].GetString()));
        Assert.True(await copier.SampleAsync(Stop));
        Assert.Equal(0, (await server.QueryAsync($"SELECT last(messages_waiting) AS n FROM {PointNames.Ingest}"))[0]["n"].GetInt32());
    }

    [Fact]
    public async Task HostileNames_ArriveAsNamesAndNothingElseDoes()
    {
        await using var server = await InfluxOne.StartAsync();
        using var target = server.Target();
        var lines = new FactLines("attic", _ => "gravity");
        var names = LineTextTests.Injections.Select(row => row.Data).ToList();
        var facts = names.Select((name, at) =>
            new CopiedFact.OneReading(new SeriesKey(new SensorId(name), QuantityKind.Gravity), at * 1000L, new ReadingFigures(at, at, TimeSpan.Zero, true), true));
        var result = await new LineWriter(target, InfluxCopier.Probe("attic", TimeProvider.System)).WriteAsync([.. facts.SelectMany(lines.Of)], Stop);

        Assert.Equal((names.Count, null), (result.Points, result.Trouble));
        Assert.Empty(result.SetAside);
        var rows = await server.QueryAsync($"SELECT value, sensor, site FROM {PointNames.Reading}");
        Assert.Equal(names, rows.OrderBy(row => row["value"].GetDouble()).Select(row => LineText.Unguarded(row["sensor"].GetString()!)));
        Assert.All(rows, row => Assert.Equal("attic", row["site"].GetString()));
    }

    private static TopicMapping Mapping(MeasurementUnit unit) => new(
        GravitySeries.Sensor.Value,
        TopicFilter.Parse("cellar/d1/gravity"),
        ValueList.Of(new FieldMapping(null, UnitConversion.QuantityOf(unit), unit)),
        null);
}
