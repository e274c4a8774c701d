using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Pipeline;
using FermentWatch.System.Tests.Mqtt;
using Microsoft.Extensions.Logging.Abstractions;
using Xunit;
using static FermentWatch.System.Tests.Storage.StoreOnDisk;

namespace FermentWatch.System.Tests.Connecting;

/// <summary>A wrong mapping can be changed at any time, and reaches back.</summary>
public sealed class MappingChangeTests
{
    private const MeasurementUnit Plato = MeasurementUnit.DegreesPlato;
    private const MeasurementUnit Gravity = MeasurementUnit.SpecificGravity;
    private const MeasurementUnit Celsius = MeasurementUnit.DegreesCelsius;

    [Fact]
    public async Task NumberThatIsAnotherQuantity_TakesItsReadingsAlong()
    {
        await using var sensor = await MappedSensor.WithAsync(("/x", Plato));
        var batch = await AttachAsync(sensor);
        for (var hour = 0; hour < 5; hour++)
        {
            await sensor.HearAsync(hour, $$"""{"x":{{19 + hour}}}""");
        }

        var revision = sensor.Disk.Store.ReadBatch(batch)!.Revision;
        var change = await sensor.Book.ChangeUnitAsync(sensor.Id, QuantityKind.Gravity, Celsius, Stop);

        Assert.Equal(new FieldChange(FieldChangeFate.Done, 5), change);
        Assert.Equal([19, 20, 21, 22, 23], sensor.Readings(QuantityKind.Temperature).Select(reading => reading.Value));
        var series = Assert.Single(sensor.Disk.Store.ReadSeries());
        Assert.Equal((MappedSensor.Series(QuantityKind.Temperature), 5L, At(4)), (series.Series, series.Readings, series.LastAt));
        Assert.Equal(5, sensor.Disk.Store.ReadRollups(MappedSensor.Series(QuantityKind.Temperature), RollupWidth.OneHour, At(-10), At(10)).Sum(bucket => bucket.Count));
        Assert.Equal(5 * 2, sensor.Disk.Number("SELECT count(*) FROM rollup"));
        Assert.True(sensor.Disk.Store.ReadBatch(batch)!.Revision > revision);

        // What comes from now on is of the other quantity too.
        await sensor.HearAsync(6, """{"x":24}""");
        Assert.Equal(24, sensor.Readings(QuantityKind.Temperature)[^1].Value);
    }

    [Fact]
    public async Task StopWithinAMove_IsMadeUpForAtTheNextStart()
    {
        await using var sensor = await MappedSensor.WithAsync(("/x", Plato));
        await sensor.HearAsync(0, """{"x":19}""");
        var noted = new UnitChange(MappedSensor.Series(QuantityKind.Gravity), Plato, Celsius);
        Assert.True(await sensor.Disk.Store.ChangeUnitAsync(sensor.Id, MappedSensor.Mapping(MappedSensor.Topic, "/x", Celsius), noted, Stop));

        await sensor.RestartAsync();
        await sensor.Book.ResumeAsync(Stop);

        Assert.Empty(sensor.Disk.Store.ReadUnitChanges());
        Assert.Equal(19, Assert.Single(sensor.Readings(QuantityKind.Temperature)).Value);
        Assert.Empty(sensor.Readings(QuantityKind.Gravity));
    }

    [Fact]
    public async Task QuantityThatTheSensorGivesAlready_IsRefusedAndTheyCanBeSwappedInThreeSteps()
    {
        await using var sensor = await MappedSensor.WithAsync(("/t", Plato), ("/d", Celsius));
        await sensor.HearAsync(0, """{"t":19,"d":1.05}""");
        Assert.Equal(FieldChangeFate.Taken, (await sensor.Book.ChangeUnitAsync(sensor.Id, QuantityKind.Gravity, Celsius, Stop)).Fate);
        Assert.Equal(19, Assert.Single(sensor.Readings(QuantityKind.Gravity)).Raw);

        foreach (var (was, unit) in ((QuantityKind, MeasurementUnit)[])[(QuantityKind.Gravity, MeasurementUnit.Degrees), (QuantityKind.Temperature, Gravity), (QuantityKind.Inclination, Celsius)])
        {
            Assert.Equal(new FieldChange(FieldChangeFate.Done, 1), await sensor.Book.ChangeUnitAsync(sensor.Id, was, unit, Stop));
        }

        Assert.Equal(1.05, Assert.Single(sensor.Readings(QuantityKind.Gravity)).Value);
        Assert.Equal(19, Assert.Single(sensor.Readings(QuantityKind.Temperature)).Value);
        Assert.Equal(2, sensor.Disk.Store.ReadSeries().Count);
    }

    [Fact]
    public async Task ReadingsOfBothQuantitiesFromOneMessage_AreNotPutOnTopOfEachOther()
    {
        await using var sensor = await MappedSensor.WithAsync(("/t", Gravity));
        await sensor.Book.AddAsync("float", TopicFilter.Parse("barn/+"), new FieldMapping(JsonPointer.Parse("/d"), QuantityKind.Temperature, Celsius), null, Stop);
        await sensor.HearAsync(0, """{"t":1.05,"d":19}""");
        var (first, second) = (sensor.Book.Made[0].Id, sensor.Book.Made[1].Id);
        await sensor.Book.RetireAsync(second, Stop);

        Assert.Equal(FieldChangeFate.Taken, (await sensor.Book.ChangeUnitAsync(first, QuantityKind.Gravity, Celsius, Stop)).Fate);

        Assert.Equal(19, Assert.Single(sensor.Readings(QuantityKind.Temperature)).Value);
        Assert.Single(sensor.Readings(QuantityKind.Gravity));
    }

    [Fact]
    public async Task OtherField_IsReadFromTheMessagesThatAreKeptAndTheRestIsSetAside()
    {
        await using var sensor = await MappedSensor.WithAsync(("/filtered", Plato));
        var batch = await AttachAsync(sensor);
        for (var hour = 0; hour < 3; hour++)
        {
            await sensor.HearAsync(hour, $$"""{"filtered":9,"dens":{{12 - hour}}}""");
        }

        await sensor.HearAsync(3, """{"filtered":9}""");
        var byFile = new ImportedReading(new DecodedField(new SensorId("float"), QuantityKind.Gravity, Plato, 9, 1.036, null), At(4), Arrival(4), true);
        await sensor.Disk.Store.ImportAsync([[byFile]], _ => { }, Stop);
        var revision = sensor.Disk.Store.ReadBatch(batch)!.Revision;

        var change = await sensor.Book.ChangeSourceAsync(sensor.Id, QuantityKind.Gravity, JsonPointer.Parse("/dens"), Stop);

        Assert.Equal(new FieldChange(FieldChangeFate.Done, 3), change);
        Assert.Equal([12, 11, 10], sensor.Readings(QuantityKind.Gravity).Select(reading => reading.Raw));
        Assert.All(sensor.Readings(QuantityKind.Gravity), reading => Assert.Equal(UnitConversion.ToCanonical(reading.Raw, Plato), reading.Value, 12));
        Assert.Equal(5, sensor.Disk.Number("SELECT count(*) FROM reading"));
        Assert.True(sensor.Disk.Store.ReadBatch(batch)!.Revision > revision);
        await sensor.HearAsync(5, """{"filtered":9,"dens":8.5}""");
        Assert.Equal(8.5, sensor.Readings(QuantityKind.Gravity)[^1].Raw);
    }

    [Fact]
    public async Task OtherMappingOfTheSameSeries_KeepsItsReadings()
    {
        // The configuration may read one sensor from two topics, of which the page mapped one in the wrong unit.
        await using var sensor = await MappedSensor.WithAsync(("/x", Plato));
        await sensor.HearAsync(0, """{"x":12}""");
        var other = await sensor.Disk.RecordAsync(Message("12", 0, topic: "barn/other", hours: 1));
        var field = new DecodedField(new SensorId("float"), QuantityKind.Gravity, Plato, 12, UnitConversion.ToCanonical(12, Plato), null);
        await sensor.Disk.Store.CommitDecodedAsync([new Infrastructure.Storage.DecodedMessage(other.Sequence, [field], [])], other.Sequence, Stop);

        Assert.Equal(1, (await sensor.Book.ChangeUnitAsync(sensor.Id, QuantityKind.Gravity, MeasurementUnit.GravityPoints, Stop)).Readings);

        Assert.Equal([1.012, UnitConversion.ToCanonical(12, Plato)], sensor.Readings(QuantityKind.Gravity).Select(reading => reading.Value));
        Assert.Empty(sensor.Disk.Store.ReadUnitChanges());
    }

    [Fact]
    public async Task MessageThatIsBeingReadWhileTheUnitChanges_FollowsTheChange()
    {
        await using var sensor = await MappedSensor.WithAsync(("/x", Plato));
        Task<FieldChange>? change = null;
        var reading = new MessageReading(() =>
        {
            var under = sensor.Book.Active;
            if (change is null)
            {
                // Between reading and commit. The change has to wait for the commit: half a second shows whether it does.
                change = Task.Run(() => sensor.Book.ChangeUnitAsync(sensor.Id, QuantityKind.Gravity, MeasurementUnit.GravityPoints, Stop), Stop);
                change.Wait(500, Stop);
            }

            return under;
        });
        await sensor.Disk.RecordAsync(Message("""{"x":12}""", 0, topic: MappedSensor.Topic));
        using var loop = new IngestLoop(sensor.Disk.Store, reading, sensor.Signals, TimeProvider.System, NullLogger<IngestLoop>.Instance);
        await loop.StartAsync(Stop);

        await Eventually.TrueAsync(() => change is { IsCompleted: true } && sensor.Readings(QuantityKind.Gravity).Count == 1, "nothing was read");

        Assert.Equal(1.012, sensor.Readings(QuantityKind.Gravity)[0].Value);
        Assert.Equal(1, (await change!).Readings);
        await loop.StopAsync(Stop);
    }

    [Fact]
    public async Task ChangesAtTheSameTime_EndInTheUnitOfTheMapping()
    {
        await using var sensor = await MappedSensor.WithAsync(("/x", Plato));
        for (var hour = 0; hour < 20; hour++)
        {
            await sensor.HearAsync(hour, """{"x":12}""");
        }

        MeasurementUnit[] units = [MeasurementUnit.GravityPoints, Plato, MeasurementUnit.DegreesBrix, MeasurementUnit.GravityPoints, Plato, MeasurementUnit.DegreesBrix];
        await Task.WhenAll(units.Select(unit => Task.Run(() => sensor.Book.ChangeUnitAsync(sensor.Id, QuantityKind.Gravity, unit, Stop), Stop)));

        var last = sensor.Book.Made.Single().Mapping.Fields.Single().Unit;
        Assert.All(sensor.Readings(QuantityKind.Gravity), reading => Assert.Equal(UnitConversion.ToCanonical(12, last), reading.Value));
        Assert.Equal(20, sensor.Disk.Number($"SELECT count(*) FROM reading WHERE unit = {(int)last}"));
    }

    private static async Task<BatchId> AttachAsync(MappedSensor sensor)
    {
        var batch = new Batch(new BatchId("plum"), "Plum wine", FermentKind.Wine, null, null, At(-1), null, null, null, ValueList.Of<SensorAttachment>());
        await sensor.Disk.Store.ReplaceBatchesAsync([batch], Stop);
        Assert.True(await sensor.Disk.Store.AttachSensorAsync(batch.Id, new SensorAttachment(new SensorId("float"), At(-1), null, Placement.InLiquid), Stop));
        return batch.Id;
    }
}
