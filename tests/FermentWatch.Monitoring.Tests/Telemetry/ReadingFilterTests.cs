using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Telemetry;

public sealed class ReadingFilterTests
{
    private static readonly SensorAttachment[] Attached = [new(new SensorId("float"), new EventTime(100), new EventTime(200), Placement.InLiquid)];

    [Fact]
    public void SameDeviceTimeAgain_TheLatestArrivalCounts() =>
        Assert.Equal([3.0], Values(With(150, 1, 1), With(150, 9, 3), With(150, 4, 2)));

    [Fact]
    public void ExactRepeat_IsDropped() => Assert.Equal([1.0, 5.0], Values(With(150, 1, 1), Bare(160, 2, 5), Bare(160, 2, 5), With(150, 1, 1)));

    [Fact]
    public void EqualBareNumbers_AreTwoReadings() => Assert.Equal([5.0, 5.0], Values(Bare(160, 3, 5), Bare(160, 2, 5)));

    [Fact]
    public void OutsideTheAttachmentOrAfterNow_DoesNotCount() =>
        Assert.Equal([2.0], Values(Bare(99, 1, 1), Bare(100, 2, 2), Bare(191, 3, 3), Bare(200, 4, 4)));

    private static IEnumerable<double> Values(params Reading[] readings) =>
        ReadingFilter.Normalize(readings, Attached, new EventTime(190)).Select(reading => reading.Value);

    private static Reading Bare(long at, long sequence, double value) =>
        new(new EventTime(at), sequence, null, new ReceivedAt(at), value, value, true);

    private static Reading With(long at, long sequence, double value) => Bare(at, sequence, value) with { DeviceTime = new EventTime(at) };
}
