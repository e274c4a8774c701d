using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>What a rule on the samples' time line sees of a batch. Order of arrival and exact repeats change nothing.</summary>
/// <param name="Batch">The batch, with the bands of its stages.</param>
/// <param name="Series">Readings of its sensors, without those taken while somebody worked on the vessel.</param>
/// <param name="Now">The moment to look from; later samples do not count yet.</param>
public sealed record SampleFacts(Batch Batch, IReadOnlyList<SeriesReadings> Series, EventTime Now)
{
    /// <summary>Entries of the journal that count, by time.</summary>
    public IReadOnlyList<JournalEntry> Journal { get; init; } = [];

    /// <summary>The batch's stages, the lasting one last; empty where no journal was read: then it ferments.</summary>
    public ValueList<StageSpan> Stages { get; init; } = ValueList.Of<StageSpan>();

    /// <summary>Kept gravity in bins, in time order.</summary>
    public ValueList<GravityPoint> Gravity { get; init; } = ValueList.Of<GravityPoint>();

    /// <summary>Gravity readings of each sensor, with those that were set aside.</summary>
    public IReadOnlyList<SiftedReadings> Sifted { get; init; } = [];

    /// <summary>The stage that lasted at a time.</summary>
    public BatchStage StageAt(EventTime at)
    {
        var stage = BatchStage.Fermenting;
        foreach (var span in Stages)
        {
            stage = span.From <= at ? span.Stage : stage;
        }

        return stage;
    }

    /// <summary>The newest entry of any of these kinds, or null.</summary>
    public JournalEntry? Last(params ReadOnlySpan<JournalKind> kinds)
    {
        JournalEntry? last = null;
        foreach (var entry in Journal)
        {
            last = entry.At <= Now && kinds.Contains(entry.Kind) ? entry : last;
        }

        return last;
    }
}
