using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using Xunit;
using static FermentWatch.System.Tests.Storage.StoreOnDisk;
using DecodedMessage = FermentWatch.Infrastructure.Storage.DecodedMessage;

namespace FermentWatch.System.Tests.Storage;

public sealed class ReadingIdentityTests
{
    [Fact]
    public async Task EqualBareNumbers_AreReadingsOfTheirOwn()
    {
        await using var disk = Open();
        await disk.ReadingAsync(1.050, null, 1);
        await disk.ReadingAsync(1.050, null, 2);
        await disk.ReadingAsync(1.050, null, 2);

        var readings = disk.Readings();

        Assert.Equal([At(1), At(2), At(2)], readings.Select(reading => reading.At));
        Assert.All(readings, reading => Assert.Null(reading.DeviceTime));
    }

    [Fact]
    public async Task SameValueAtTheSameDeviceTime_IsKnown()
    {
        await using var disk = Open();
        await disk.ReadingAsync(1.050, At(1), 1);

        for (var i = 0; i < 100; i++)
        {
            var again = await disk.ReadingAsync(1.050, At(1), 2);
            Assert.Equal((0, 1), (again.Stored, again.Known));
            Assert.Empty(again.Series);
        }

        var reading = Assert.Single(disk.Readings(withSuperseded: true));
        Assert.Equal(new Reading(At(1), 1, At(1), Arrival(1), 1.050, 1.050, true), reading);
        Assert.Equal(100, disk.Store.ReadCounts().Messages[InboxOutcome.Known]);
        Assert.Equal(Arrival(2), Assert.Single(disk.Store.ReadSeries()).LastReceivedAt);
    }

    [Fact]
    public async Task OtherValueAtTheSameDeviceTime_IsACorrectionAndTheLatestCounts()
    {
        await using var disk = Open();
        await disk.ReadingAsync(1.050, At(1), 1);
        var second = await disk.ReadingAsync(1.048, At(1), 2);
        var third = await disk.ReadingAsync(1.047, At(1), 3);

        Assert.Equal((1, 1), (second.Stored, second.Corrected));
        Assert.Equal((1, 1), (third.Stored, third.Corrected));
        Assert.Equal(1.047, Assert.Single(disk.Readings()).Value);
        Assert.Equal([1.050, 1.048, 1.047], disk.Readings(withSuperseded: true).Select(reading => reading.Value));
        Assert.Equal([1L, 2L, 3L], disk.Readings(withSuperseded: true).Select(reading => reading.Sequence));
    }

    [Fact]
    public async Task RepeatOfACorrectedReading_DoesNotUndoTheCorrection()
    {
        await using var disk = Open();
        await disk.ReadingAsync(1.050, At(1), 1);
        await disk.ReadingAsync(1.048, At(1), 2);

        var again = await disk.ReadingAsync(1.050, At(1), 3);

        Assert.Equal(1, again.Known);
        Assert.Equal(1.048, Assert.Single(disk.Readings()).Value);
    }

    [Fact]
    public async Task BareNumberAtAnotherReadingsDeviceTime_StandsBesideIt()
    {
        await using var disk = Open();
        await disk.ReadingAsync(1.050, At(1), 1);
        await disk.ReadingAsync(1.048, null, 1);

        Assert.Equal([1.050, 1.048], disk.Readings().Select(reading => reading.Value));
    }

    [Fact]
    public async Task SeriesOfOneMessage_AreTwoReadings()
    {
        await using var disk = Open();
        var receipt = await disk.RecordAsync(Message("{}", 1));
        var warm = new DecodedField(GravitySeries.Sensor, QuantityKind.Temperature, MeasurementUnit.DegreesFahrenheit, 68, 20, null);

        var report = await disk.Store.CommitDecodedAsync([new DecodedMessage(receipt.Sequence, [Gravity(1.050, null), warm], [])], 1, Stop);

        Assert.Equal(2, report.Stored);
        Assert.Equal(2, report.Series.Count);
        var reading = Assert.Single(disk.Store.ReadReadings(new SeriesKey(GravitySeries.Sensor, QuantityKind.Temperature), At(0), At(1)));
        Assert.Equal((68, 20), (reading.Raw, reading.Value));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task SameSeriesTwiceInOneMessage_KeepsTheFirstAndSaysWhy(bool withDeviceTime)
    {
        await using var disk = Open();
        var receipt = await disk.RecordAsync(Message("{}", 1));
        EventTime? time = withDeviceTime ? At(0) : null;

        var report = await disk.Store.CommitDecodedAsync(
            [new DecodedMessage(receipt.Sequence, [Gravity(1.050, time), Gravity(1.040, time)], [])], 1, Stop);

        Assert.Equal((1, 1), (report.Stored, report.Rejected));
        Assert.Equal(1.050, Assert.Single(disk.Readings()).Value);
        Assert.Equal(DecodeWriter.SameSeriesTwice, Assert.Single(Assert.Single(disk.Store.ReadRefused(1)).Rejections).Because.Code);
    }

    [Theory]
    [InlineData(double.NaN, 1.05)]
    [InlineData(1.05, double.PositiveInfinity)]
    public async Task NumberThatIsNotFinite_IsRejectedAndHoldsNothingUp(double raw, double value)
    {
        await using var disk = Open();
        var receipt = await disk.RecordAsync(Message("{}", 1));

        var report = await disk.Store.CommitDecodedAsync(
            [new DecodedMessage(receipt.Sequence, [Gravity(1.05, null) with { Raw = raw, Value = value }, Gravity(1.04, null)], [])], 1, Stop);

        Assert.Equal((1, 1, 1), (report.UpTo, report.Stored, report.Rejected));
        Assert.Equal(1.04, Assert.Single(disk.Readings()).Value);
        Assert.Equal(DecodeReasons.NumberNotFinite, Assert.Single(Assert.Single(disk.Store.ReadRefused(1)).Rejections).Because.Code);
    }

    [Theory]
    [InlineData(long.MaxValue)]
    [InlineData(long.MinValue)]
    public async Task DeviceTimeBeyondAnyCalendar_ComesBackAsItWasSent(long microseconds)
    {
        await using var disk = Open();
        await disk.ReadingAsync(1.05, new EventTime(microseconds), 1);

        Assert.Equal((At(1), new EventTime(microseconds)), (disk.Readings()[0].At, disk.Readings()[0].DeviceTime!.Value));
    }

    [Fact]
    public async Task LateReadings_StandAtTheirEventTime()
    {
        await using var disk = Open();
        await disk.ReadingAsync(1.040, At(50), 50);
        await disk.ReadingAsync(1.050, At(2), 50.01);
        await disk.ReadingAsync(1.049, At(3), 50.02);

        Assert.Equal([At(2), At(3), At(50)], disk.Readings().Select(reading => reading.At));
        Assert.All(disk.Readings(), reading => Assert.True(reading.ClockTrusted));
        Assert.Equal(At(50), Assert.Single(disk.Store.ReadSeries()).LastAt);
    }

    [Fact]
    public async Task DeviceClockNotTrusted_IsRepairedAndTheRawStampKept()
    {
        await using var disk = Open();
        var wrong = new EventTime(17);
        var report = await disk.ReadingAsync(1.050, wrong, 1);
        await disk.ReadingAsync(1.050, wrong, 2);

        Assert.Equal(1, report.Repaired);
        var readings = disk.Readings();
        Assert.Equal([At(1), At(2)], readings.Select(reading => reading.At));
        Assert.All(readings, reading => Assert.Equal((wrong, false), (reading.DeviceTime, reading.ClockTrusted)));
        Assert.Equal(2, disk.Number($"SELECT count(*) FROM clock_fix WHERE code = '{ClockRepair.TooOld}' AND device_time = 17"));
    }

    [Fact]
    public async Task ClockHistory_OutlivesARestart()
    {
        await using var disk = Open();
        await disk.ReadingAsync(1.050, At(0), 0);
        await disk.RestartAsync();

        var report = await disk.ReadingAsync(1.049, At(-200 * 24), 1);

        Assert.Equal(1, report.Repaired);
        Assert.Equal([At(0), At(1)], disk.Readings().Select(reading => reading.At));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public async Task ShuffledAndRepeatedReadings_EndInTheSameFacts(int seed)
    {
        await using var ordered = Open();
        await using var shuffled = Open();
        var sent = Enumerable.Range(0, 60).Select(i => (Value: 1.09 - (i * 0.001), Time: At(i))).ToArray();
        foreach (var (value, time) in sent)
        {
            await ordered.ReadingAsync(value, time, 100);
        }

        var order = sent.Concat(sent).ToArray();
        new Random(seed).Shuffle(order);
        foreach (var (value, time) in order)
        {
            await shuffled.ReadingAsync(value, time, 100);
        }

        Assert.Equal(
            ordered.Readings().Select(reading => (reading.At, reading.Value)),
            shuffled.Readings().Select(reading => (reading.At, reading.Value)));
    }
}
