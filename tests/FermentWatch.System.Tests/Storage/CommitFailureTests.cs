using FermentWatch.Infrastructure.Storage;
using Xunit;
using static FermentWatch.System.Tests.Storage.StoreOnDisk;

namespace FermentWatch.System.Tests.Storage;

public sealed class CommitFailureTests
{
    private static readonly string Payload = new('1', 4000);

    [Fact]
    public async Task FullDisk_RefusesAndResumesWithNothingLostThatWasAnsweredFor()
    {
        await using var disk = Open();
        disk.Store.MaximumPages = (int)disk.Number("PRAGMA page_count") + 60;
        await disk.Store.ApplyMaximumPagesAsync(Stop);

        var answered = new List<long>();
        var refused = 0;
        for (var round = 0; round < 10; round++)
        {
            var results = await Task.WhenAll(Enumerable.Range(0, 20).Select(async _ => await Try(disk)));
            answered.AddRange(results.OfType<long>());
            refused += results.Count(result => result is null);
        }

        Assert.True(answered.Count > 0, "the disk was full before the first message");
        Assert.True(refused > 0, "the disk never became full");
        Assert.False(disk.Store.Health.Writable);
        Assert.Contains("full", disk.Store.Health.Problem, StringComparison.Ordinal);
        Assert.Equal(answered.Count, disk.Number("SELECT count(*) FROM inbox"));

        disk.Store.MaximumPages = null;
        answered.Add(Assert.NotNull(await Try(disk)));

        Assert.True(disk.Store.Health.Writable);
        Assert.Equal(answered.Count, answered.Distinct().Count());
        await disk.RestartAsync();
        var kept = new List<long>();
        UndecodedMessages next;
        while ((next = disk.Store.ReadUndecoded()).Messages.Count > 0)
        {
            kept.AddRange(next.Messages.Select(row => row.Sequence));
            await disk.Store.CommitDecodedAsync([.. next.Messages.Select(row => new DecodedMessage(row.Sequence, [], []))], next.UpTo, Stop);
        }

        Assert.Equal(answered.Order(), kept);
        Assert.Equal(1, disk.Number("SELECT count(*) FROM pragma_integrity_check WHERE integrity_check = 'ok'"));
    }

    [Fact]
    public async Task FullDisk_DecodingIsRefusedAsAWholeAndCanBeRepeated()
    {
        await using var disk = Open();
        await disk.RecordAsync(Message("1.050", 1));
        disk.Store.MaximumPages = (int)disk.Number("PRAGMA page_count");
        await disk.Store.ApplyMaximumPagesAsync(Stop);
        // Enough new series to need new pages.
        DecodedField[] fields = [.. Enumerable.Range(0, 5000).Select(i => Gravity(1.05, null) with { Sensor = new($"sensor {i}") })];
        DecodedMessage[] decoded = [new DecodedMessage(1, fields, [])];

        await Assert.ThrowsAsync<StorageUnavailableException>(() => disk.Store.CommitDecodedAsync(decoded, 1, Stop));
        Assert.Equal(0, disk.Number("SELECT count(*) FROM reading"));
        Assert.Single(disk.Store.ReadUndecoded().Messages);

        disk.Store.MaximumPages = null;
        var report = await disk.Store.CommitDecodedAsync(decoded, 1, Stop);

        Assert.Equal(5000, report.Stored);
        Assert.Equal(5000, disk.Number("SELECT count(*) FROM reading"));
    }

    [Fact]
    public async Task DatabaseHeldByAnotherProgram_RefusesAndResumes()
    {
        await using var disk = Open();
        await disk.RecordAsync(Message("1.050", 1));
        using (var other = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={disk.Options.DatabasePath};Pooling=False"))
        {
            other.Open();
            using var transaction = other.BeginTransaction(deferred: false);

            await Assert.ThrowsAsync<StorageUnavailableException>(async () => await disk.RecordAsync(Message("1.049", 2)));
        }

        Assert.Equal(2, (await disk.RecordAsync(Message("1.049", 2, duplicate: true))).Sequence);
    }

    [Fact]
    public async Task WorkThatFaults_HarmsNeitherItsNeighborsNorTheStore()
    {
        await using var disk = Open();
        var fault = disk.Store.WriteAsync<int>(_ => throw new FormatException("a fault of the work itself"), Stop);
        var receipts = await Task.WhenAll(Enumerable.Range(1, 10).Select(i => disk.RecordAsync(Message("1.050", (ushort)i))));

        await Assert.ThrowsAsync<FormatException>(() => fault);
        Assert.Equal(10, receipts.Select(receipt => receipt.Sequence).Distinct().Count());
        Assert.True(disk.Store.Health.Writable);
    }

    [Fact]
    public async Task Stop_WritesWhatWaits()
    {
        await using var disk = Open();
        var waiting = Enumerable.Range(1, 500).Select(i => disk.RecordAsync(Message("1.050", (ushort)i))).ToList();

        await disk.RestartAsync();

        await Task.WhenAll(waiting);
        Assert.Equal(500, disk.Number("SELECT count(*) FROM inbox"));
    }

    private static async Task<long?> Try(StoreOnDisk disk)
    {
        try
        {
            return (await disk.RecordAsync(Message(Payload, 0))).Sequence;
        }
        catch (StorageUnavailableException)
        {
            return null;
        }
    }
}
