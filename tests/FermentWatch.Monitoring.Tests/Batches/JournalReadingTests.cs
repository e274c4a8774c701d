using FermentWatch.Monitoring.Batches;
using Xunit;

namespace FermentWatch.Monitoring.Tests.Batches;

public sealed class JournalReadingTests
{
    [Fact]
    public void CorrectedEntry_IsReplaced()
    {
        Assert.Equal([2], Ids(Entry(1), Entry(2, supersedes: 1)));
        Assert.Equal([3], Ids(Entry(1), Entry(2, supersedes: 1), Entry(3, supersedes: 2)));
    }

    [Fact]
    public void CorrectionTakenBack_BringsTheOldEntryBack() => Assert.Equal([1], Ids(Entry(1), Entry(2, supersedes: 1, undone: true)));

    [Fact]
    public void EntryTakenBack_DoesNotCount() => Assert.Empty(Ids(Entry(1, undone: true)));

    [Fact]
    public void RepeatedEntry_CountsOnce() => Assert.Equal([1], Ids(Entry(1), Entry(1)));

    [Fact]
    public void FutureEntry_DoesNotCountYet() => Assert.Empty(Ids(Entry(1) with { At = SimulatedBatch.At(1000) }));

    private static IEnumerable<long> Ids(params JournalEntry[] journal) =>
        JournalReading.Active(journal, SimulatedBatch.At(100)).Select(entry => entry.Id);

    private static JournalEntry Entry(long id, long? supersedes = null, bool undone = false) =>
        new(id, JournalKind.Note, SimulatedBatch.At(id), "line", null, supersedes, undone);
}
