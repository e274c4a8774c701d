using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Pipeline;

/// <summary>Batches of the configuration: their sensors are attached there and nowhere else.</summary>
/// <param name="Ids">Their keys.</param>
public sealed record ConfiguredBatches(IReadOnlySet<BatchId> Ids);

/// <summary>Topics that nobody mapped, for as long as somebody looks at the list.</summary>
/// <remarks>
/// The embedded broker hears everything anyway. At an external one a second session is opened at the first look and ends when nobody
/// has looked for <see cref="Lease"/>; its list lives in memory only.
/// </remarks>
public sealed class Listening(BrokerLink broker, MappingBook book, ListeningScope scope, Store store, TimeProvider clock, ILogger<Listening> logger) : IAsyncDisposable
{
    private readonly Lock _gate = new();
    private CancellationTokenSource? _ending;
    private ListeningSession? _session;
    private (ExternalBrokerOptions Options, string Filter) _openAt;
    private Task _running = Task.CompletedTask;

    /// <summary>How long the second session outlives the last look: an open page looks every 60 s, and a phone that shows another one wakes it a little late.</summary>
    public static readonly TimeSpan Lease = TimeSpan.FromSeconds(90);

    /// <summary>Whether a second session exists now.</summary>
    public bool IsOpen
    {
        get
        {
            lock (_gate)
            {
                return _session is not null;
            }
        }
    }

    /// <summary>Why nothing can be heard; null while all is well.</summary>
    public Reason? Problem
    {
        get
        {
            lock (_gate)
            {
                return _session?.Problem;
            }
        }
    }

    /// <summary>Topics that are neither mapped nor ignored, most recent first, at most <see cref="UnmappedTopics.Capacity"/>. Renews the lease.</summary>
    public IReadOnlyList<UnmappedTopic> Look()
    {
        var ignored = store.ReadIgnoredTopics().ToHashSet(StringComparer.Ordinal);
        // What was heard before it was mapped is no longer new.
        return [.. All().Where(topic => !ignored.Contains(topic.Topic) && !book.Wants(topic.Topic) && scope.Filter.Matches(topic.Topic))];
    }

    /// <summary>How many new topics are known without opening a session to hear more: none at an external broker.</summary>
    public int KnownCount => broker.Unmapped is not null ? Look().Count : 0;

    /// <summary>The last message on a topic, ignored or mapped since or not, so that more of its numbers can be taken; null when it was not heard. Renews the lease.</summary>
    public UnmappedTopic? Find(string topic) => All().FirstOrDefault(heard => heard.Topic == topic);

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        Task running;
        lock (_gate)
        {
            _ending?.Cancel();
            running = _running;
        }

        await running.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
    }

    private IEnumerable<UnmappedTopic> All() => Heard()?.Snapshot(ReceivedAt.From(clock.GetUtcNow())) ?? [];

    private UnmappedTopics? Heard()
    {
        lock (_gate)
        {
            if (broker.Beside is not { } options)
            {
                // The broker was changed while the list was open.
                _ending?.Cancel();
                return broker.Unmapped;
            }

            var at = (options, scope.Filter.Text);
            if (_session is null || _openAt != at)
            {
                _ending?.Cancel();
                _ending = new CancellationTokenSource(Lease, clock);
                _session = new ListeningSession(options, at.Text, book.Wants, clock, logger);
                _openAt = at;
                _running = Task.WhenAll(_running, RunAsync(_session, _ending));
            }

            _ending!.CancelAfter(Lease);
            return _session.Heard;
        }
    }

    private async Task RunAsync(ListeningSession session, CancellationTokenSource ending)
    {
        await session.RunAsync(ending.Token);
        lock (_gate)
        {
            if (_session == session)
            {
                (_session, _ending) = (null, null);
            }

            ending.Dispose();
        }
    }
}
