using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>A notice to be put into the outbox in the transaction of the transition that caused it.</summary>
/// <param name="Key">Unique and stable: alert, state number, channel.</param>
/// <param name="Channel">Name of the channel.</param>
/// <param name="Thread">Key under which a device shows it: a newer notice of a thread replaces the older.</param>
/// <param name="Batch">The batch that it is about; the first of them for a notice about several.</param>
/// <param name="Severity">How much it asks.</param>
/// <param name="Silent">True for an all-clear: it makes no sound.</param>
/// <param name="Title">Words of the title, at most 40 characters once written out.</param>
/// <param name="Body">Sentences of the body, at most 240 characters together once written out.</param>
/// <param name="NextAttemptAt">Not to be sent before this.</param>
public sealed record OutboxDraft(
    string Key,
    string Channel,
    string Thread,
    BatchId Batch,
    Severity Severity,
    bool Silent,
    Reason Title,
    ValueList<Reason> Body,
    ReceivedAt NextAttemptAt)
{
    /// <summary>Keys of the alerts that it tells of; empty when it was queued by an earlier version or tells of none.</summary>
    public ValueList<string> Alerts { get; init; } = ValueList.Of<string>();

    /// <summary>Whether it tells of more than one batch.</summary>
    public bool IsOfSeveralBatches { get; init; }

    /// <summary>What changed about the alerts; null for what is no change, such as a digest.</summary>
    public TransitionKind? Kind { get; init; }
}
