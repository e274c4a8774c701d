using FermentWatch.Infrastructure.Storage;
using Xunit;
using static FermentWatch.System.Tests.Storage.StoreOnDisk;

namespace FermentWatch.System.Tests.Storage;

public sealed class PruningTests
{
    [Fact]
    public async Task MessagesPastRetention_GoOnceTheyAreDecoded()
    {
        await using var disk = Open();
        await FillAsync(disk, 700, decodeUpTo: 600);
        disk.Clock.Advance(TimeSpan.FromDays(15));

        var pruned = await disk.Store.PruneAsync(Stop);

        Assert.Equal(600, pruned);
        Assert.Equal(601, disk.Number("SELECT min(sequence) FROM inbox"));
        Assert.Equal(600, disk.Readings().Count);
        Assert.Equal(600, disk.Store.ReadCounts().Messages[InboxOutcome.Stored]);
        Assert.Equal(0, await disk.Store.PruneAsync(Stop));
    }

    [Fact]
    public async Task MessagesWithinRetention_Stay()
    {
        await using var disk = Open();
        await FillAsync(disk, 100, decodeUpTo: 100);
        disk.Clock.Advance(TimeSpan.FromDays(13));

        Assert.Equal(0, await disk.Store.PruneAsync(Stop));
        Assert.Equal(100, disk.Number("SELECT count(*) FROM inbox"));
    }

    [Fact]
    public async Task TooManyBytes_TheOldestGo()
    {
        await using var disk = Open(options => options with { InboxMaximumBytes = 20_000 });
        await FillAsync(disk, 500, decodeUpTo: 500);

        await disk.Store.PruneAsync(Stop);

        // 5 bytes of payload and the allowance beside it.
        var left = disk.Number("SELECT count(*) FROM inbox");
        Assert.Equal(20_000 / (5 + InboxPruning.RoomBesidePayload), left);
        Assert.Equal(500, disk.Number("SELECT max(sequence) FROM inbox"));
        Assert.Equal(left * (5 + InboxPruning.RoomBesidePayload), disk.Number($"SELECT count FROM tally WHERE name = '{InboxPruning.RoomTally}'"));
    }

    [Fact]
    public async Task EmptiedInbox_NeverGivesANumberTwice()
    {
        await using var disk = Open();
        await FillAsync(disk, 50, decodeUpTo: 50);
        disk.Clock.Advance(TimeSpan.FromDays(20));
        await disk.Store.PruneAsync(Stop);
        await disk.RestartAsync();

        Assert.Equal(0, disk.Number("SELECT count(*) FROM inbox"));
        Assert.Equal(51, (await disk.RecordAsync(Message("1.050", 0))).Sequence);
    }

    [Fact]
    public async Task SessionLongGone_IsForgottenAndMayComeBack()
    {
        await using var disk = Open();
        await disk.RecordAsync(Message("1.050", 1, session: "embedded/old"));
        await disk.RecordAsync(Message("1.050", 1, session: "embedded/new", hours: 24 * 10));
        disk.Clock.Advance(TimeSpan.FromDays(15));

        await disk.Store.PruneAsync(Stop);

        Assert.Equal(1, disk.Number("SELECT count(*) FROM session"));
        Assert.Equal(1, disk.Number("SELECT count(*) FROM in_flight"));
        Assert.False((await disk.RecordAsync(Message("1.050", 1, session: "embedded/old"))).AlreadyRecorded);
    }

    private static async Task FillAsync(StoreOnDisk disk, int count, long decodeUpTo)
    {
        await Task.WhenAll(Enumerable.Range(0, count).Select(_ => disk.RecordAsync(Message("1.050", 0))));
        while (disk.Store.ReadUndecoded() is var next && next.Messages[0].Sequence <= decodeUpTo)
        {
            await disk.Store.CommitDecodedAsync(
                [.. next.Messages.Select(row => new DecodedMessage(row.Sequence, [Gravity(1.050, null)], []))], next.UpTo, Stop);
            if (next.UpTo == count)
            {
                return;
            }
        }
    }
}
