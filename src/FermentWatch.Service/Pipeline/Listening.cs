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
public sealed class Listening(BrokerLink broker, MappingBook book, Store store, TimeProvider clock, ILogger<Listening> logger) : IAsyncDisposable
{
    private const string EveryTopic = "#";

    private readonly Lock _gate = new();
    private CancellationTokenSource? _ending;
    private ListeningSession? _session;
    private Task _running = Task.CompletedTask;

    /// <summary>How long the second session outlives the last look.</summary>
    public TimeSpan Lease { get; init; } = TimeSpan.FromSeconds(60);

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
        return [.. All().Where(topic => !ignored.Contains(topic.Topic) && !book.Wants(topic.Topic))];
    }

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

    private IEnumerable<UnmappedTopic> All()
    {
        var heard = broker.Unmapped ?? Open();
        return heard?.Snapshot(ReceivedAt.From(clock.GetUtcNow())) ?? [];
    }

    private UnmappedTopics? Open()
    {
        lock (_gate)
        {
            if (broker.Beside is not { } options)
            {
                return null;
            }

            if (_session is null)
            {
                _ending = new CancellationTokenSource();
                _session = new ListeningSession(options, EveryTopic, book.Wants, clock, logger);
                _running = RunAsync(_session, _ending);
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
            (_session, _ending) = (null, null);
            ending.Dispose();
        }
    }
}
