using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using Xunit;
using static FermentWatch.System.Tests.Storage.StoreOnDisk;

namespace FermentWatch.System.Tests.Storage;

/// <summary>The log of notices: what acts take out of it, what is kept, and what a wrong clock does to it.</summary>
public sealed class OutboxPruningTests
{
    private static readonly BatchId Id = new("sloe");
    private static readonly TimeSpan Age = TimeSpan.FromDays(200);

    [Fact]
    public async Task OldNotices_GoExceptThoseOfAlertsThatStillStand()
    {
        await using var disk = await FilledAsync(("sloe/stuck/sloe/1", AlertStanding.Raised), ("sloe/stuck/sloe/2", AlertStanding.Cleared));
        foreach (var key in new[] { "sloe/stuck/sloe/1#1@relay", "sloe/stuck/sloe/2#1@relay", "digest/2026-03-03@relay" })
        {
            var alert = key[..(key.Contains('#', StringComparison.Ordinal) ? key.IndexOf('#', StringComparison.Ordinal) : 0)];
            await QueueAsync(disk, key, TransitionKind.Raised, alert.Length > 0 ? [alert] : []);
            await disk.Store.MarkSentAsync(key, Arrival(1), Stop);
        }

        await QueueAsync(disk, "sloe/stuck/sloe/2#2@relay", TransitionKind.Cleared, ["sloe/stuck/sloe/2"]);

        Assert.Equal(0, await disk.Store.PruneOutboxAsync(Arrival(1) + Age, Age, Stop));
        Assert.Equal(2, await disk.Store.PruneOutboxAsync(Arrival(2) + Age, Age, Stop));
        // What still waits stays whatever its age.
        Assert.Equal(["sloe/stuck/sloe/1#1@relay", "sloe/stuck/sloe/2#2@relay"], disk.Store.ReadOutbox(10).Select(row => row.Key).Order());
        await Assert.ThrowsAsync<ArgumentOutOfRangeException>(() => disk.Store.PruneOutboxAsync(Arrival(2), TimeSpan.FromDays(1), Stop));
    }

    [Fact]
    public async Task Act_TakesOutWaitingRemindersOfThatAlertAlone()
    {
        const string one = "sloe/stuck/sloe/1";
        const string other = "sloe/no-start/sloe/2";
        await using var disk = await FilledAsync((one, AlertStanding.Raised), (other, AlertStanding.Raised));
        await QueueAsync(disk, one + "#1@relay", TransitionKind.Raised, [one]);
        await QueueAsync(disk, one + "#2@mail", TransitionKind.Repeated, [one]);
        await QueueAsync(disk, other + "#1@relay", TransitionKind.Raised, [one, other]);
        await QueueAsync(disk, one + "#3@relay", TransitionKind.Withdrawn, [one]);
        // One of them failed before: its next try is canceled as well.
        await disk.Store.ClaimDueAsync(Arrival(1), TimeSpan.FromMinutes(5), 2, Stop);

        Assert.Equal(ActOutcome.Done, await disk.Store.ActAsync(Id, one, AlertAct.SnoozeMorning, Arrival(2), Stop, TimeZoneInfo.Utc));

        Assert.Equal(
            [(other + "#1@relay", OutboxState.Waiting), (one + "#1@relay", OutboxState.Overtaken), (one + "#2@mail", OutboxState.Overtaken), (one + "#3@relay", OutboxState.Waiting)],
            disk.Store.ReadOutbox(10).Select(row => (row.Key, row.State)).OrderBy(row => row.Key, StringComparer.Ordinal));
    }

    [Fact]
    public async Task ClockSetBack_SendsWhatWasQueuedBeforeInsteadOfHoursLate()
    {
        await using var disk = await FilledAsync();
        await QueueAsync(disk, "sloe/stuck/sloe/1#1@relay", TransitionKind.Raised, []);
        var back = Arrival(0) - TimeSpan.FromHours(2);

        Assert.True(disk.Store.ReadNextDue(back) <= back);
        Assert.Single(await disk.Store.ClaimDueAsync(back, TimeSpan.FromMinutes(5), 10, Stop));
        // Taken once: it is not due again before its lease is over.
        Assert.True(disk.Store.ReadNextDue(back) > back);
        Assert.Empty(await disk.Store.ClaimDueAsync(back, TimeSpan.FromMinutes(5), 10, Stop));
    }

    [Fact]
    public async Task LedgerOfAPass_IsKeptWithItOrNotAtAll()
    {
        await using var disk = await FilledAsync();
        var house = new PassResult(null, 0, Arrival(3), null, [], null) { Ledger = "{\"Version\":1}" };
        var overtaken = new PassResult(Id, 99, Arrival(3), "{}", [], null);

        Assert.False(await disk.Store.CommitPassesAsync([house, overtaken], Stop));
        Assert.Null(disk.Store.ReadLedger());
        Assert.True(await disk.Store.CommitPassesAsync([house], Stop));
        Assert.Equal(NoticeLedger.Empty, AlertJson.ReadLedger(disk.Store.ReadLedger()!));
    }

    private static Task<bool> QueueAsync(StoreOnDisk disk, string key, TransitionKind kind, string[] alerts)
    {
        var draft = new OutboxDraft(key, "relay", key, Id, Severity.Warning, Silent: false, Reason.Of("any"), ValueList.Of<Reason>(), Arrival(1))
        {
            Alerts = ValueList.Of<string>(alerts),
            Kind = kind,
        };
        return disk.Store.QueueAsync(new OutboxEntry(key, "relay", AlertJson.Write(draft), Arrival(1)), Id, Arrival(0), Stop);
    }

    private static async Task<StoreOnDisk> FilledAsync(params (string Key, AlertStanding Standing)[] alerts)
    {
        var disk = Open();
        await disk.Store.ReplaceBatchesAsync([new Batch(Id, "Sloe wine", FermentKind.Wine, null, null, At(0), null, null, null, ValueList.Of<SensorAttachment>())], Stop);
        var set = AlertSet.Empty with
        {
            Alerts = ValueList.Of(alerts.Select(one => new TrackedAlert(
                one.Key, "stuck", "sloe", Severity.Warning, At(0), At(0), null, one.Standing, one.Standing, Arrival(0), TimeSpan.Zero, 1, 0, null, one.Key, Reason.Of("any")))),
        };
        Assert.True(await disk.Store.CommitPassAsync(new PassResult(Id, disk.Store.ReadBatch(Id)!.Revision, Arrival(0), AlertJson.Write(set), [], null), Stop));
        return disk;
    }
}
