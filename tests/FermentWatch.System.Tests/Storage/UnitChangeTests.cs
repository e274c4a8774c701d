using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using Xunit;
using static FermentWatch.System.Tests.Storage.StoreOnDisk;
using DecodedMessage = FermentWatch.Infrastructure.Storage.DecodedMessage;

namespace FermentWatch.System.Tests.Storage;

public sealed class UnitChangeTests
{
    private static readonly BatchId Batch = new("plum");

    [Fact]
    public async Task WrongUnit_ReachesBackThroughTheRawNumbersToRollupsAndBatch()
    {
        await using var disk = Open();
        await AddBatchAsync(disk);
        var id = await disk.Store.AddMappingAsync(Mapping(MeasurementUnit.GravityPoints), Stop);
        for (var hour = 0; hour < 5; hour++)
        {
            await PointsAsync(disk, 12 + hour, hour);
        }

        var revision = disk.Store.ReadBatch(Batch)!.Revision;
        var change = new UnitChange(GravitySeries, MeasurementUnit.GravityPoints, MeasurementUnit.DegreesBrix);
        Assert.True(await disk.Store.ChangeUnitAsync(id, Mapping(MeasurementUnit.DegreesBrix), change, Stop));

        // A stop between the change and its reach is made up for after the restart.
        await disk.RestartAsync();
        Assert.Equal([change], disk.Store.ReadUnitChanges());
        var report = await disk.Store.ApplyUnitChangesAsync(Stop);

        Assert.Equal(5, report.Readings);
        Assert.Equal([Batch], report.Batches);
        Assert.Empty(disk.Store.ReadUnitChanges());
        Assert.Equal(MeasurementUnit.DegreesBrix, disk.Store.ReadMappings()[0].Mapping.Fields[0].Unit);
        Assert.All(disk.Readings(), reading => Assert.Equal(UnitConversion.ToCanonical(reading.Raw, MeasurementUnit.DegreesBrix), reading.Value, 12));
        Assert.Equal([12, 13, 14, 15, 16], disk.Readings().Select(reading => reading.Raw));

        // 12 °Bx is 1.0484: sucrose table of UnitConversionTests.
        Assert.Equal(1.0484, disk.Readings()[0].Value, 3);
        var hours = disk.Store.ReadRollups(GravitySeries, RollupWidth.OneHour, At(-10), At(10));
        Assert.Equal(disk.Readings().Select(reading => reading.Value), hours.Select(bucket => bucket.Lowest));
        Assert.True(disk.Store.ReadBatch(Batch)!.Revision > revision);
        Assert.Equal(disk.Readings(), disk.Store.ReadBatch(Batch)!.Facts.Series.Single().Readings);
    }

    [Fact]
    public async Task MoreReadingsThanOnePiece_AllFollowAndBackAgainNothingIsLost()
    {
        await using var disk = Open();
        var id = await disk.Store.AddMappingAsync(Mapping(MeasurementUnit.SpecificGravity), Stop);
        var count = Store.UnitChangePiece + 7;
        var messages = new List<DecodedMessage>();
        for (var i = 0; i < count; i++)
        {
            var receipt = await disk.RecordAsync(Message("x", 0, hours: i / 60.0));
            messages.Add(new DecodedMessage(receipt.Sequence, [Gravity(1.02 + (i % 50 / 1000.0), null)], []));
            if (messages.Count == 50 || i == count - 1)
            {
                while ((await disk.Store.CommitDecodedAsync(messages, receipt.Sequence, Stop)).UpTo < receipt.Sequence)
                {
                }

                messages.Clear();
            }
        }

        var before = disk.Readings();
        foreach (var (was, now) in ((MeasurementUnit, MeasurementUnit)[])[(MeasurementUnit.SpecificGravity, MeasurementUnit.DegreesPlato), (MeasurementUnit.DegreesPlato, MeasurementUnit.SpecificGravity)])
        {
            Assert.True(await disk.Store.ChangeUnitAsync(id, Mapping(now), new UnitChange(GravitySeries, was, now), Stop));
            Assert.Equal(count, (await disk.Store.ApplyUnitChangesAsync(Stop)).Readings);
        }

        Assert.Equal(before, disk.Readings());
    }

    [Fact]
    public async Task RetiredMapping_KeepsItsReadingsAndCannotBeChanged()
    {
        await using var disk = Open();
        var id = await disk.Store.AddMappingAsync(Mapping(MeasurementUnit.GravityPoints), Stop);
        await PointsAsync(disk, 40, 0);

        Assert.True(await disk.Store.RetireMappingAsync(id, Stop));
        Assert.False(await disk.Store.RetireMappingAsync(id, Stop));
        Assert.False(await disk.Store.ReplaceMappingAsync(id, Mapping(MeasurementUnit.DegreesBrix), Stop));

        Assert.Single(disk.Readings());
        Assert.NotNull(disk.Store.ReadMappings().Single().RetiredAt);
    }

    private static TopicMapping Mapping(MeasurementUnit unit) => new(
        GravitySeries.Sensor.Value,
        TopicFilter.Parse("cellar/d1/gravity"),
        ValueList.Of(new FieldMapping(JsonPointer.Parse("/dens"), QuantityKind.Gravity, unit)),
        new TimeMapping(JsonPointer.Parse("/at"), TimeFormat.UnixSeconds));

    private static async Task PointsAsync(StoreOnDisk disk, double points, double hours)
    {
        var receipt = await disk.RecordAsync(Message("x", 0, hours: hours));
        var field = new DecodedField(GravitySeries.Sensor, QuantityKind.Gravity, MeasurementUnit.GravityPoints, points, 1 + (points / 1000), null);
        await disk.Store.CommitDecodedAsync([new DecodedMessage(receipt.Sequence, [field], [])], receipt.Sequence, Stop);
    }

    private static async Task AddBatchAsync(StoreOnDisk disk)
    {
        var batch = new Batch(Batch, "Plum wine", FermentKind.Wine, null, null, At(-1), null, null, null, ValueList.Of<SensorAttachment>());
        await disk.Store.ReplaceBatchesAsync([batch], Stop);
        Assert.True(await disk.Store.AttachSensorAsync(Batch, new SensorAttachment(GravitySeries.Sensor, At(-1), null, Placement.InLiquid), Stop));
    }
}
