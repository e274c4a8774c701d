using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using Xunit;
using static FermentWatch.System.Tests.Storage.StoreOnDisk;
using DecodedMessage = FermentWatch.Infrastructure.Storage.DecodedMessage;

namespace FermentWatch.System.Tests.Storage;

public sealed class RollupTests
{
    [Theory]
    [InlineData(11)]
    [InlineData(12)]
    [InlineData(13)]
    [InlineData(14)]
    [InlineData(15)]
    public async Task Rollups_EqualThoseComputedFromAllReadings(int seed)
    {
        await using var disk = Open();
        var random = new Random(seed);
        for (var round = 0; round < 20; round++)
        {
            var decoded = new List<DecodedMessage>();
            var count = random.Next(1, 51);
            for (var i = 0; i < count; i++)
            {
                // A coarse grid of times and values, so that repeats and corrections are common; some bare; some with a broken clock.
                EventTime? time = random.Next(10) switch { 0 => null, 1 => new EventTime(0), _ => At(random.Next(-60, 60) / 10.0) };
                var receipt = await disk.RecordAsync(Message("x", 0, hours: 6 + (random.Next(0, 50) / 100.0)));
                decoded.Add(new DecodedMessage(receipt.Sequence, [Gravity(1 + (random.Next(8) / 1000.0), time)], []));
            }

            var upTo = decoded[^1].Sequence;
            while ((await disk.Store.CommitDecodedAsync(decoded, upTo, Stop)).UpTo < upTo)
            {
            }
        }

        Assert.True(disk.Store.ReadCounts().ReadingsCorrected > 10, $"seed {seed}: too few corrections to check");
        Assert.True(disk.Store.ReadCounts().ReadingsKnown > 10, $"seed {seed}: too few repeats to check");
        foreach (var width in Enum.GetValues<RollupWidth>())
        {
            var stored = disk.Store.ReadRollups(GravitySeries, width, At(-1000), At(1000));
            var expected = Counting(disk.Readings(withSuperseded: true))
                .GroupBy(reading => StartOf(reading.At, width))
                .OrderBy(bucket => bucket.Key)
                .Select(bucket => (bucket.Key, bucket.Count(), bucket.Min(r => r.Value), bucket.Max(r => r.Value), Math.Round(bucket.Sum(r => r.Value), 9)));
            Assert.True(
                expected.SequenceEqual(stored.Select(b => (b.Start.UnixMicroseconds, b.Count, b.Lowest, b.Highest, Math.Round(b.Sum, 9)))),
                $"seed {seed}, width {width}");
        }
    }

    [Fact]
    public async Task TimeBefore1970_FallsIntoTheBucketThatBeginsBeforeIt()
    {
        await using var disk = Open();
        var receipt = await disk.RecordAsync(Message("x", 0) with { ReceivedAt = new ReceivedAt(-1) });
        await disk.Store.CommitDecodedAsync([new DecodedMessage(receipt.Sequence, [Gravity(1.05, null)], [])], receipt.Sequence, Stop);

        var bucket = Assert.Single(disk.Store.ReadRollups(GravitySeries, RollupWidth.TenMinutes, new EventTime(-600_000_000), new EventTime(0)));

        Assert.Equal(-600_000_000, bucket.Start.UnixMicroseconds);
    }

    /// <summary>The rule of what counts, written anew: of readings with a trusted device time the latest arrival per time, and all others.</summary>
    private static IEnumerable<Reading> Counting(IEnumerable<Reading> all)
    {
        var readings = all.ToList();
        var own = readings.Where(reading => reading.DeviceTime is not null && reading.ClockTrusted);
        return own.GroupBy(reading => reading.At).Select(same => same.MaxBy(reading => reading.Sequence))
            .Concat(readings.Where(reading => reading.DeviceTime is null || !reading.ClockTrusted));
    }

    private static long StartOf(EventTime at, RollupWidth width) => at.UnixMicroseconds / ((long)width * 1_000_000) * (long)width * 1_000_000;
}
