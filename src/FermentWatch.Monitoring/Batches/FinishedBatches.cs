using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches;

/// <summary>Reads from a batch's facts whether and where its ferment came to its end by itself.</summary>
public static class FinishedBatches
{
    // Whoever stabilizes, chills, sweetens or bottles ends the ferment; what gravity does then is no longer the yeast's.
    private static readonly JournalKind[] Ending = [JournalKind.Stabilized, JournalKind.ColdCrash, JournalKind.Sweetened, JournalKind.Bottled];

    private const int LastPoints = 6;

    /// <summary>Its end as of <paramref name="until"/>; null where it has not ended, has stopped before its end, or had sugar added.</summary>
    /// <param name="facts">All that is known about the batch.</param>
    /// <param name="settings">What the maker set.</param>
    /// <param name="until">Nothing later counts.</param>
    public static FinishedBatch? Of(BatchFacts facts, ViewSettings settings, EventTime until)
    {
        ArgumentNullException.ThrowIfNull(facts);
        var journal = JournalReading.Active(facts.Journal, until);
        var last = until;
        foreach (var entry in journal)
        {
            last = Ending.Contains(entry.Kind) && entry.At < last ? entry.At : last;
        }

        // What nobody measures any more is judged as of when it was last measured.
        var view = BatchAnalysis.View(facts, settings, PriorSnapshot.Shipped, LastMeasured(facts, journal, last) ?? last);
        var isFlatByHand = view.IsGravityByHand && view.Phase.Phase == Phase.Flat;
        if (!(view.Stop.IsFinished || isFlatByHand)
            || view.OriginalGravity is not { } original
            || view.Gravity.Count == 0
            || view.Events.Any(one => one.IsSugar))
        {
            return null;
        }

        var points = view.Gravity.Skip(view.IsGravityByHand ? view.Gravity.Count - 1 : Math.Max(0, view.Gravity.Count - LastPoints)).OrderBy(point => point.Gravity).ToList();
        return new FinishedBatch(view.Batch.Kind, original.Value, points[points.Count / 2].Gravity, view.Batch.Tolerance, isFlatByHand ? 0.8 : view.Stop.Finished);
    }

    private static EventTime? LastMeasured(BatchFacts facts, IReadOnlyList<JournalEntry> journal, EventTime until)
    {
        var sensed = facts.Series.Where(one => one.Series.Quantity == QuantityKind.Gravity).SelectMany(one => one.Readings).Select(one => one.At);
        var byHand = journal.Where(one => one is { Kind: JournalKind.MeasuredByHand, Gravity: not null }).Select(one => one.At);
        return sensed.Concat(byHand).Where(at => at <= until).Select(at => (EventTime?)at).Max();
    }
}
