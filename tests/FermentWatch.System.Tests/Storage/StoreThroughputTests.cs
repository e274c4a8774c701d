using System.Diagnostics;
using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using Xunit;
using static FermentWatch.System.Tests.Storage.StoreOnDisk;

namespace FermentWatch.System.Tests.Storage;

/// <summary>Rates and times, reported; what is asserted is that nothing is lost and that nobody goes without a turn.</summary>
[Collection(MeasuredAlone.Name)]
public sealed class StoreThroughputTests(ITestOutputHelper output)
{
    private const int Callers = 50;

    [Fact]
    public async Task FiftyCallers_AreRecordedWithFsync()
    {
        await using var disk = Open();
        const int each = 600;
        await RunAsync(disk, 50);

        var since = Stopwatch.GetTimestamp();
        await RunAsync(disk, each);
        var rate = Callers * each / Stopwatch.GetElapsedTime(since).TotalSeconds;

        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"recorded with fsync, {Callers} callers: {rate:F0} messages/s"));
        Assert.Equal(Callers * (50 + each), disk.Number("SELECT count(*) FROM inbox"));
    }

    [Fact]
    public async Task SingleCaller_IsNotHeldBackByLinger()
    {
        await using var disk = Open();
        await disk.RecordAsync(Message("1.050", 1));
        var times = new List<double>();
        for (var i = 0; i < 500; i++)
        {
            var since = Stopwatch.GetTimestamp();
            await disk.RecordAsync(Message("1.050", (ushort)(i + 2)));
            times.Add(Stopwatch.GetElapsedTime(since).TotalMilliseconds);
        }

        times.Sort();
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"recorded with fsync, 1 caller: median {times[250]:F2} ms, P95 {times[475]:F2} ms"));
        Assert.Equal(501, disk.Number("SELECT count(*) FROM inbox"));
    }

    [Fact]
    public async Task DecodedMessages_AreStoredWithRollups()
    {
        await using var disk = Open();
        await RunAsync(disk, 200);
        var since = Stopwatch.GetTimestamp();
        var readings = 0;
        while (disk.Store.ReadUndecoded() is { Messages.Count: > 0 } next)
        {
            var decoded = next.Messages.Select(row => new DecodedMessage(row.Sequence, [Gravity(1.05, At(row.Sequence / 60.0 / 60))], []));
            readings += (await disk.Store.CommitDecodedAsync([.. decoded], next.UpTo, Stop)).Stored;
        }

        var rate = readings / Stopwatch.GetElapsedTime(since).TotalSeconds;
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"decoded, read and stored with roll-ups: {rate:F0} readings/s"));
        Assert.Equal(Callers * 200, readings);
    }

    [Fact]
    public async Task DecodingBesideRecording_BothGoOn()
    {
        await using var disk = Open();
        var recording = RunAsync(disk, 300);
        var since = Stopwatch.GetTimestamp();
        var decodedMeanwhile = 0;
        while (!recording.IsCompleted)
        {
            var next = disk.Store.ReadUndecoded();
            if (next.Messages.Count > 0)
            {
                var report = await disk.Store.CommitDecodedAsync(
                    [.. next.Messages.Select(row => new DecodedMessage(row.Sequence, [Gravity(1.05, At(row.Sequence / 3600.0))], []))], next.UpTo, Stop);
                decodedMeanwhile += report.Stored;
            }
        }

        await recording;
        var seconds = Stopwatch.GetElapsedTime(since).TotalSeconds;
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"side by side: {Callers * 300 / seconds:F0} recorded/s, {decodedMeanwhile / seconds:F0} decoded/s"));
        Assert.True(decodedMeanwhile > 0, "recording left decoding no turn");
    }

    [Fact]
    public async Task Reading_TakesLittleRoom()
    {
        await using var disk = Open();
        var empty = Used(disk);
        // 20 sensors, one reading a minute each, interleaved as they arrive, for a day.
        const int readings = 20 * 24 * 60;
        for (var done = 0; done < readings; done += Store.DecodeBatch)
        {
            var decoded = await Task.WhenAll(Enumerable.Range(done, Store.DecodeBatch).Select(async number =>
            {
                var hours = number / 20.0 / 60;
                var receipt = await disk.RecordAsync(Message("x", 0, hours: hours + 0.001));
                return new DecodedMessage(
                    receipt.Sequence, [Gravity(1.05 + (number % 7 * 0.0013), At(hours)) with { Sensor = new($"sensor {number % 20}") }], []);
            }));
            await disk.Store.CommitDecodedAsync(decoded, done + Store.DecodeBatch, Stop);
        }

        disk.Clock.Advance(TimeSpan.FromDays(20));
        await disk.Store.PruneAsync(Stop);
        Assert.Equal(0, disk.Number("SELECT count(*) FROM inbox"));
        Assert.Equal(readings, disk.Number("SELECT count(*) FROM reading"));

        var each = (double)(Used(disk) - empty) / readings;
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"room with roll-ups, inbox pruned: {each:F1} bytes a reading over {readings} readings"));
        Assert.InRange(each, 0, 60);
    }

    [Fact]
    public async Task NinetyDaysOfAReadingAMinute_AreReadWhole()
    {
        await using var disk = Open();
        await disk.ReadingAsync(1.09, At(0), 0);
        const int minutes = 90 * 24 * 60;
        // Written as rows, since only the reading is measured.
        await disk.Store.WriteAsync(
            connection => connection.Statement("""
                WITH RECURSIVE minute(m) AS (SELECT 1 UNION ALL SELECT m + 1 FROM minute WHERE m < ?2 - 1)
                INSERT INTO reading (series, t, n, device_offset, received_offset, unit, raw, value, quality)
                SELECT 1, ?1 + m * 60000000, m + 1, 0, 1500000, 1, NULL, 1.09 - m * 0.0000005, 0 FROM minute
                """).Run(At(0).UnixMicroseconds, minutes),
            Stop);
        await disk.Store.WriteAsync(
            connection => connection.Statement("""
                INSERT OR REPLACE INTO rollup SELECT series, 3600, t - t % 3600000000, count(*), min(value), max(value), sum(value)
                FROM reading GROUP BY t - t % 3600000000
                """).Run(),
            Stop);

        var since = Stopwatch.GetTimestamp();
        var raw = disk.Readings();
        var rawTime = Stopwatch.GetElapsedTime(since);
        since = Stopwatch.GetTimestamp();
        var buckets = disk.Store.ReadRollups(GravitySeries, RollupWidth.OneHour, At(0), At(90 * 24));
        var rolledUpTime = Stopwatch.GetElapsedTime(since);

        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"90 days: {raw.Count} readings in {rawTime.TotalMilliseconds:F0} ms, {buckets.Count} hours in {rolledUpTime.TotalMilliseconds:F1} ms"));
        Assert.Equal(minutes, raw.Count);
        Assert.Equal(minutes, buckets.Sum(bucket => bucket.Count));
    }

    /// <summary>Room in use, free pages left out. [bytes]</summary>
    private static long Used(StoreOnDisk disk) =>
        (disk.Number("PRAGMA page_count") - disk.Number("PRAGMA freelist_count")) * disk.Number("PRAGMA page_size");

    private static Task RunAsync(StoreOnDisk disk, int each) => Task.WhenAll(Enumerable.Range(0, Callers).Select(caller => Task.Run(
        async () =>
        {
            for (var i = 1; i <= each; i++)
            {
                await disk.RecordAsync(Message("{\"gravity\":1.0502,\"temperature\":20.25}", (ushort)i, session: $"embedded/d{caller}", topic: $"cellar/d{caller}/state"));
            }
        },
        Stop)));
}
