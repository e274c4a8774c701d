using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service.Pipeline;
using FermentWatch.System.Tests.Storage;
using Xunit;
using static FermentWatch.System.Tests.Storage.StoreOnDisk;

namespace FermentWatch.System.Tests.Backtest;

/// <summary>What finished batches say is kept with a batch from its start on, in a real store.</summary>
public sealed class PriorBookTests
{
    private const double Day = 24;

    [Fact]
    public async Task FinishedBatches_InformTheNextOne_AndALaterEndChangesNothing()
    {
        await using var disk = Open();
        var batches = new List<Batch> { Wine("quince", 0), Wine("sloe", 2 * Day), Wine("plum", 30 * Day), Wine("pear", 45 * Day) };
        await disk.Store.ReplaceBatchesAsync(batches, Stop);
        await EndAsync(disk, "quince", 1.090, 0.999, 25 * Day);
        await EndAsync(disk, "sloe", 1.090, 0.998, 26 * Day);

        // Still falling when the plum wine began.
        await EndAsync(disk, "plum", 1.090, 0.997, 55 * Day);
        var prior = await PriorOfAsync(disk, "pear", 46 * Day);
        Assert.Equal(prior, PriorSnapshot.Learn([.. PriorBook.KeptWith(disk.Store, new BatchId("pear"))]));
        var learned = Assert.Single(prior.Learned);
        Assert.Equal((FermentKind.Wine, 2), (learned.Kind, learned.Count));
        Assert.InRange(learned.ShiftPoints, 1, 5);
        Assert.Equal(PriorSnapshot.Shipped, await PriorOfAsync(disk, "quince", 46 * Day));

        // After a restart, with one more batch at its end: the running one keeps what it began with, the next one learns from three.
        await disk.RestartAsync();
        await disk.Store.ReplaceBatchesAsync([.. batches, Wine("apple", 80 * Day)], Stop);
        Assert.Equal(prior, await PriorOfAsync(disk, "pear", 81 * Day));
        Assert.Equal(3, Assert.Single((await PriorOfAsync(disk, "apple", 81 * Day)).Learned).Count);
    }

    [Fact]
    public async Task BatchMetLongAfterItsStart_KeepsTheShippedAssumptions()
    {
        await using var disk = Open();
        await disk.Store.ReplaceBatchesAsync([Wine("quince", 0), Wine("sloe", 0), Wine("plum", 40 * Day)], Stop);
        await EndAsync(disk, "quince", 1.090, 0.999, 25 * Day);
        await EndAsync(disk, "sloe", 1.090, 0.998, 26 * Day);
        Assert.Equal(PriorSnapshot.Shipped, await PriorOfAsync(disk, "plum", 50 * Day));
    }

    [Fact]
    public async Task StuckSweetenedAndStepFedBatches_SayNothing()
    {
        await using var disk = Open();
        await disk.Store.ReplaceBatchesAsync([Wine("fed", 0), Wine("falling", 0), Wine("ended", 0)], Stop);
        await EndAsync(disk, "fed", 1.090, 0.998, 25 * Day);
        await disk.Store.AppendJournalAsync(new BatchId("fed"), new JournalDraft(JournalKind.SugarAdded, At(5 * Day), ""), null, Stop);
        await disk.Store.AppendJournalAsync(new BatchId("falling"), new JournalDraft(JournalKind.MeasuredByHand, At(5 * Day), "", SpecificGravity.FromRatio(1.050)), null, Stop);
        await disk.Store.AppendJournalAsync(new BatchId("falling"), new JournalDraft(JournalKind.MeasuredByHand, At(9 * Day), "", SpecificGravity.FromRatio(1.030)), null, Stop);
        await EndAsync(disk, "ended", 1.090, 0.998, 25 * Day);
        await disk.Store.AppendJournalAsync(new BatchId("ended"), new JournalDraft(JournalKind.Stabilized, At(26 * Day), ""), null, Stop);
        await disk.Store.AppendJournalAsync(new BatchId("ended"), new JournalDraft(JournalKind.MeasuredByHand, At(30 * Day), "", SpecificGravity.FromRatio(1.012)), null, Stop);
        FinishedBatch? End(string id) => FinishedBatches.Of(disk.Store.ReadBatch(new BatchId(id))!.Facts, ViewSettings.Default, At(40 * Day));
        Assert.Null(End("fed"));
        Assert.Null(End("falling"));

        // What was sweetened later ended where it rested before it was stabilized.
        Assert.Equal(0.998, End("ended")!.FinalGravity.Value, 1e-9);
    }

    private static async Task<PriorSnapshot> PriorOfAsync(StoreOnDisk disk, string id, double hours)
    {
        var book = new PriorBook(disk.Store);
        await book.PrepareAsync(disk.Store.ReadBatches(), ViewSettings.Default, At(hours), Stop);
        return book.Of(new BatchId(id));
    }

    /// <summary>Hand readings on the way and, eight days apart and alike, at the end.</summary>
    private static async Task EndAsync(StoreOnDisk disk, string id, double original, double end, double hours)
    {
        foreach (var (at, gravity) in new[] { (hours - (14 * Day), (original + end) / 2), (hours - (8 * Day), end), (hours - (4 * Day), end), (hours, end) })
        {
            await disk.Store.AppendJournalAsync(
                new BatchId(id), new JournalDraft(JournalKind.MeasuredByHand, At(at), "", SpecificGravity.FromRatio(Math.Round(gravity, 4))), null, Stop);
        }
    }

    private static Batch Wine(string id, double hours) => new(
        new BatchId(id), id, FermentKind.Wine, null, null, At(hours), SpecificGravity.FromRatio(1.090), null, AlcoholByVolume.FromPercent(16), ValueList.Of<SensorAttachment>());
}
