using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Tasting;
using Xunit;

namespace FermentWatch.System.Tests.Storage;

/// <summary>Bench trials in a real store: kept over a restart, changed by several at once, guest codes that end.</summary>
public sealed class TrialStorageTests
{
    private static readonly BatchId Sloe = new("sloe");

    private static CancellationToken Stop => StoreOnDisk.Stop;

    [Fact]
    public async Task Trial_OutlivesARestartWithAllThatWasSaid()
    {
        await using var disk = await WithBatchAsync();
        var trial = TrialSamples.Sugar();
        var id = await disk.Store.AddTrialAsync(Sloe, trial, Stop);
        var codes = trial.Current.CodesFor(0);
        await disk.Store.ChangeTrialAsync(id, was => was with { State = TrialState.Tasting, Trial = was.Trial.WithScore(new GlassScore("Wren", codes[0], JustAboutRight.TooLittle, Liking: 4, Note: "thin")) }, Stop);
        await disk.Store.ChangeTrialAsync(id, was => was with { Trial = was.Trial.WithRanking(new GlassRanking("Wren", codes)), Work = was.Work with { Mixed = [codes[1]], Dosing = new TrialDosing(18.1, 0.2, null) } }, Stop);

        await disk.RestartAsync();

        var kept = disk.Store.ReadTrial(id)!;
        Assert.Equal((TrialState.Tasting, 3L, Sloe), (kept.State, kept.Revision, kept.Batch));
        Assert.Equal("thin", Assert.Single(kept.Trial.Current.Scores).Note);
        Assert.Equal(codes, Assert.Single(kept.Trial.Current.Rankings).Codes);
        Assert.Equal([codes[1]], kept.Work.Mixed);
        Assert.Equal(new TrialDosing(18.1, 0.2, null), kept.Work.Dosing);
        Assert.Equal(id, Assert.Single(disk.Store.ReadTrials(Sloe)).Id);
        Assert.Empty(disk.Store.ReadTrials(new BatchId("other")));
    }

    [Fact]
    public async Task ManyTastersAtOnce_LoseNoAnswer()
    {
        await using var disk = await WithBatchAsync();
        var trial = TrialSamples.Sugar();
        var id = await disk.Store.AddTrialAsync(Sloe, trial, Stop);
        var answers = trial.Request.Tasters.SelectMany(taster => trial.Current.Glasses.Select(glass => new GlassScore(taster, glass.Code, Liking: 5))).ToList();

        await Task.WhenAll(answers.Select(answer => Task.Run(() => disk.Store.ChangeTrialAsync(id, was => was with { Trial = was.Trial.WithScore(answer) }, Stop), Stop)));

        Assert.Equal(15, disk.Store.ReadTrial(id)!.Trial.Current.Scores.Length);
    }

    [Fact]
    public async Task ChangeThatIsRefused_ChangesNothing()
    {
        await using var disk = await WithBatchAsync();
        var id = await disk.Store.AddTrialAsync(Sloe, TrialSamples.Sugar(), Stop);
        await Assert.ThrowsAsync<ArgumentException>(() => disk.Store.ChangeTrialAsync(id, was => was with { Trial = was.Trial.Choose("000") }, Stop));
        Assert.Equal(1, disk.Store.ReadTrial(id)!.Revision);
        Assert.Null(await disk.Store.ChangeTrialAsync(id + 1, was => was with { State = TrialState.Done }, Stop));
        await Assert.ThrowsAsync<ArgumentException>(() => disk.Store.AddTrialAsync(new BatchId("nobody"), TrialSamples.Sugar(), Stop));
    }

    [Fact]
    public async Task GuestCode_OpensItsTrialUntilItEnds()
    {
        await using var disk = await WithBatchAsync();
        var first = await disk.Store.AddTrialAsync(Sloe, TrialSamples.Sugar(), Stop);
        var second = await disk.Store.AddTrialAsync(Sloe, TrialSamples.Sugar(), Stop);
        var until = ReceivedAt.From(StoreOnDisk.Start.AddHours(8));
        await disk.Store.OpenTastingAsync(first, "one", "sealed", until, Stop);
        await disk.Store.OpenTastingAsync(second, "two", "sealed", until, Stop);
        Assert.Equal((first, second), (disk.Store.FindTasting("one"), disk.Store.FindTasting("two")));

        await disk.Store.OpenTastingAsync(first, "three", "sealed", until, Stop);
        Assert.Null(disk.Store.FindTasting("one"));
        await disk.Store.EndTastingAsync(second, Stop);
        Assert.Null(disk.Store.FindTasting("two"));
        disk.Clock.Advance(TimeSpan.FromHours(8));
        Assert.Null(disk.Store.FindTasting("three"));
        Assert.Null(disk.Store.ReadTasting(first));
    }

    [Fact]
    public async Task Place_IsTakenOnceUntilItIsFreed()
    {
        await using var disk = await WithBatchAsync();
        var seat = new TastingSeat(await disk.Store.AddTrialAsync(Sloe, TrialSamples.Sugar(), Stop), "Pim");
        Assert.True(await disk.Store.TakeSeatAsync(seat, "key-a", Stop));
        Assert.False(await disk.Store.TakeSeatAsync(seat, "key-b", Stop));
        Assert.Equal((seat, null), (disk.Store.FindSeat("key-a"), disk.Store.FindSeat("key-b")));
        Assert.Equal(["Pim"], disk.Store.ReadSeats(seat.Trial));
        await disk.Store.FreeSeatAsync(seat, Stop);
        Assert.True(await disk.Store.TakeSeatAsync(seat, "key-b", Stop));
        Assert.Null(disk.Store.FindSeat("key-a"));
    }

    private static async Task<StoreOnDisk> WithBatchAsync()
    {
        var disk = StoreOnDisk.Open();
        await disk.Store.ReplaceBatchesAsync([new Batch(Sloe, "Sloe wine", FermentKind.Wine, null, null, StoreOnDisk.At(0), null, null, null, ValueList.Of<SensorAttachment>())], Stop);
        return disk;
    }
}
