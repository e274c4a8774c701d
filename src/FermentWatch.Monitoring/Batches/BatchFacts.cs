using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches;

/// <summary>Everything known about a batch: the maker's word, the journal, and what its sensors sent while attached.</summary>
/// <remarks>A set: the order of readings and entries, and exact repeats of either, change nothing in the view.</remarks>
/// <param name="Batch">What the maker told us.</param>
/// <param name="Journal">Entries, superseded and undone ones included.</param>
/// <param name="Series">Readings of every attached sensor, within the attachments.</param>
public sealed record BatchFacts(Batch Batch, IReadOnlyList<JournalEntry> Journal, IReadOnlyList<SeriesReadings> Series)
{
    /// <summary>When somebody worked on the vessel, by begin.</summary>
    public IReadOnlyList<WorkSpan> Work { get; init; } = [];
}
