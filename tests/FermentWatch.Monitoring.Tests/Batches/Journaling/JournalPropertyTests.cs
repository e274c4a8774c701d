using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Oenology.Quantities;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FermentWatch.Monitoring.Tests.Batches.Journaling;

/// <summary>Any sequence of writing, correcting and taking back gives the view of the entries that count alone, and loses none.</summary>
public sealed class JournalPropertyTests
{
    /// <summary>A step: 0 writes, 1 corrects, 2 takes back; which of the entries that count; and what it says.</summary>
    private sealed record Step(int Kind, int Which, int Hours, int Points);

    private static readonly Arbitrary<Step[]> Steps = Gen.ArrayOf(
        from kind in Gen.Choose(0, 2)
        from which in Gen.Choose(0, 1000)
        from hours in Gen.Choose(0, 500)
        from points in Gen.Choose(-5, 100)
        select new Step(kind, which, hours, points)).ToArbitrary();

    [Property(MaxTest = 300)]
    public Property AnySequence_ActiveEntriesAreThoseOfAnIndependentBook() => Prop.ForAll(Steps, steps =>
    {
        var (journal, book) = Run(steps);
        var active = JournalReading.Active(journal, SimulatedBatch.At(1000)).Select(entry => entry.Id).Order();
        return active.SequenceEqual(book.Order());
    });

    [Property(MaxTest = 300)]
    public Property AnySequence_NothingWrittenIsLost() => Prop.ForAll(Steps, steps =>
    {
        var (journal, _) = Run(steps);
        var written = journal.Select(entry => entry.Id).ToList();
        return written.SequenceEqual(Enumerable.Range(1, written.Count).Select(number => (long)number))
            && journal.All(entry => entry.Supersedes is not { } old || written.Contains(old));
    });

    [Property(MaxTest = 60)]
    public Property AnySequence_ViewIsThatOfTheActiveEntriesAlone() => Prop.ForAll(Steps, steps =>
    {
        var (journal, _) = Run(steps);
        var now = SimulatedBatch.At(510);
        var alone = JournalReading.Active(journal, now).Select(entry => entry with { Supersedes = null, Because = null }).ToList();
        return View(journal) == View(alone);

        BatchView View(IReadOnlyList<JournalEntry> entries) => BatchAnalysis.View(
            new BatchFacts(SimulatedBatch.Batch(SpecificGravity.FromRatio(1.09)), entries, []), ViewSettings.Default, PriorSnapshot.Shipped, now);
    });

    /// <summary>Runs the steps on a journal, and beside it on a book of sheets: correcting lays a sheet on top, taking back takes the top one away.</summary>
    private static (List<JournalEntry> Journal, List<long> Book) Run(Step[] steps)
    {
        var journal = new List<JournalEntry>();
        var book = new List<Stack<long>>();
        foreach (var step in steps)
        {
            if (step.Kind == 0 || book.Count == 0)
            {
                journal.Add(Entry(journal.Count + 1, step, null));
                book.Add(new Stack<long>([journal.Count]));
                continue;
            }

            var place = step.Which % book.Count;
            var top = book[place].Peek();
            if (step.Kind == 1)
            {
                journal.Add(Entry(journal.Count + 1, step, top));
                book[place].Push(journal.Count);
            }
            else
            {
                journal[(int)top - 1] = journal[(int)top - 1] with { Undone = true };
                book[place].Pop();
                if (book[place].Count == 0)
                {
                    book.RemoveAt(place);
                }
            }
        }

        return (journal, book.ConvertAll(sheets => sheets.Peek()));
    }

    private static JournalEntry Entry(long id, Step step, long? supersedes) => new(
        id,
        step.Points % 3 == 0 ? JournalKind.Stirred : JournalKind.MeasuredByHand,
        SimulatedBatch.At(step.Hours),
        "line",
        step.Points % 3 == 0 ? null : SpecificGravity.FromPoints(step.Points),
        supersedes,
        false)
    { Because = supersedes is null ? null : "misread" };
}
