using FermentWatch.Monitoring.Batches;

namespace FermentWatch.Service.Pipeline;

/// <summary>How the loops wake each other. Losing a signal loses nothing: each loop also looks by itself now and then.</summary>
public sealed class PipelineSignals : IDisposable
{
    private readonly Lock _gate = new();
    private HashSet<BatchId> _touched = [];

    /// <summary>Messages wait in the inbox.</summary>
    public WorkSignal Inbox { get; } = new();

    /// <summary>Facts of a batch changed.</summary>
    public WorkSignal Facts { get; } = new();

    /// <summary>Notices wait in the outbox.</summary>
    public WorkSignal Outbox { get; } = new();

    /// <summary>Something changed that a copy elsewhere lacks.</summary>
    public WorkSignal Copy { get; } = new();

    /// <summary>
    /// Held while messages are read under the mappings and committed, and while a mapping changes: what was read under the old one is on disk
    /// before the change reaches back, and nothing is read under it afterwards.
    /// </summary>
    public SemaphoreSlim Mappings { get; } = new(1, 1);

    /// <inheritdoc/>
    public void Dispose() => Mappings.Dispose();

    /// <summary>Notes that facts of these batches changed.</summary>
    public void Touch(IEnumerable<BatchId> batches)
    {
        lock (_gate)
        {
            _touched.UnionWith(batches);
        }

        Facts.Set();
        Copy.Set();
    }

    /// <summary>The batches touched since the last call.</summary>
    public IReadOnlySet<BatchId> TakeTouched()
    {
        lock (_gate)
        {
            var taken = _touched;
            _touched = [];
            return taken;
        }
    }
}
