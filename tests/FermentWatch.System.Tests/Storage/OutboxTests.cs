using FermentWatch.Infrastructure.Storage;
using Xunit;
using static FermentWatch.System.Tests.Storage.StoreOnDisk;

namespace FermentWatch.System.Tests.Storage;

public sealed class OutboxTests
{
    private static readonly TimeSpan Lease = TimeSpan.FromMinutes(2);

    [Fact]
    public async Task KnownKey_IsNotQueuedAgain()
    {
        await using var disk = Open();
        await QueueAsync(disk, ("a", 1));
        await disk.Store.MarkSentAsync("a", Arrival(1), Stop);

        await QueueAsync(disk, ("a", 2));

        Assert.Equal((OutboxState.Sent, Arrival(1)), (Assert.Single(disk.Store.ReadOutbox(10)).State, disk.Store.ReadOutbox(10)[0].NextAttemptAt));
    }

    [Fact]
    public async Task DueNotices_AreTakenOnceWithinTheirLease()
    {
        await using var disk = Open();
        await QueueAsync(disk, ("a", 1), ("b", 2), ("c", 30));
        Assert.Equal(Arrival(1), disk.Store.ReadNextDue());

        var taken = await disk.Store.ClaimDueAsync(Arrival(3), Lease, 10, Stop);
        var again = await disk.Store.ClaimDueAsync(Arrival(3), Lease, 10, Stop);

        Assert.Equal(["a", "b"], taken.Select(row => row.Key));
        Assert.All(taken, row => Assert.Equal(1, row.Attempts));
        Assert.Empty(again);
        Assert.Equal(Arrival(3) + Lease, disk.Store.ReadNextDue());
    }

    [Fact]
    public async Task NoticeTakenByAKilledService_IsDueAgainAfterTheLease()
    {
        await using var disk = Open();
        await QueueAsync(disk, ("a", 1));
        await disk.Store.ClaimDueAsync(Arrival(1), Lease, 10, Stop);
        await disk.RestartAsync();

        var row = Assert.Single(await disk.Store.ClaimDueAsync(Arrival(1) + Lease, Lease, 10, Stop));

        Assert.Equal(("a", 2), (row.Key, row.Attempts));
    }

    [Fact]
    public async Task FailedAttempt_WaitsForItsNextAndMayBeGivenUp()
    {
        await using var disk = Open();
        await QueueAsync(disk, ("a", 1));
        await disk.Store.ClaimDueAsync(Arrival(1), Lease, 10, Stop);

        await disk.Store.MarkFailedAsync("a", Arrival(1), Arrival(5), "503", Stop);
        Assert.Empty(await disk.Store.ClaimDueAsync(Arrival(4), Lease, 10, Stop));
        Assert.Equal("503", Assert.Single(await disk.Store.ClaimDueAsync(Arrival(5), Lease, 10, Stop)).LastError);
        await disk.Store.MarkFailedAsync("a", Arrival(25), null, "410", Stop);

        var row = Assert.Single(disk.Store.ReadOutbox(10));
        Assert.Equal((OutboxState.GivenUp, 2, "410", Arrival(25)), (row.State, row.Attempts, row.LastError, row.FinishedAt));
        Assert.Null(disk.Store.ReadNextDue());
    }

    [Fact]
    public async Task OvertakenNotice_IsNotSent_AndASentOneStaysSent()
    {
        await using var disk = Open();
        await QueueAsync(disk, ("waiting", 1), ("sent", 1));
        await disk.Store.MarkSentAsync("sent", Arrival(1), Stop);

        await disk.Store.CommitPassAsync(
            new PassResult(null, 0, Arrival(2), null, [], null) { Overtaken = ["waiting", "sent", "unknown"] }, Stop);

        Assert.Empty(await disk.Store.ClaimDueAsync(Arrival(3), Lease, 10, Stop));
        Assert.Equal(
            [("sent", OutboxState.Sent), ("waiting", OutboxState.Overtaken)],
            disk.Store.ReadOutbox(10).Select(row => (row.Key, row.State)).Order());
    }

    private static async Task QueueAsync(StoreOnDisk disk, params (string Key, double Due)[] notices) => Assert.True(await disk.Store.CommitPassAsync(
        new PassResult(null, 0, Arrival(0), null, [.. notices.Select(n => new OutboxEntry(n.Key, "relay", "body of " + n.Key, Arrival(n.Due)))], null), Stop));
}
