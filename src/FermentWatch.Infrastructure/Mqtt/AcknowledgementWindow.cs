using System.Threading.Channels;
using FermentWatch.Infrastructure.Storage;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>
/// Messages of one connection that are on their way to disk: at most so many at a time, acknowledged in the order in which they came,
/// each only after its commit. A commit that fails is tried again here, since a broker re-sends only after a reconnect.
/// </summary>
internal sealed class AcknowledgementWindow : IAsyncDisposable
{
    private static readonly TimeSpan ShortestRetry = TimeSpan.FromMilliseconds(250);
    private static readonly TimeSpan LongestRetry = TimeSpan.FromSeconds(15);

    private readonly Channel<Waiting> _channel;
    private readonly RecordMessage _record;
    private readonly TimeProvider _time;
    private readonly Action<InboundMessage> _onRecorded;
    private readonly Action<StorageUnavailableException> _onFailure;
    private readonly CancellationTokenSource _abandon = new();
    private long _inFlight;
    private long _newest;
    private long _highest;
    private Waiting _current;
    private int _outOfOrder;

    public AcknowledgementWindow(int size, RecordMessage record, TimeProvider time, Action<InboundMessage> onRecorded, Action<StorageUnavailableException> onFailure)
    {
        _channel = Channel.CreateBounded<Waiting>(new BoundedChannelOptions(size) { SingleReader = true, SingleWriter = true });
        _record = record;
        _time = time;
        _onRecorded = onRecorded;
        _onFailure = onFailure;
    }

    /// <summary>
    /// Highest number of which it is true that it and every lower one of this session has been acknowledged; 0 for none.
    /// </summary>
    public long Newest => Interlocked.Read(ref _newest);

    /// <summary>Begins to record a message; waits while the window is full.</summary>
    public async ValueTask AddAsync(InboundMessage message, CancellationToken cancellationToken)
    {
        // There is one writer, so that room once seen stays: nothing is begun that could not be queued.
        await _channel.Writer.WaitToWriteAsync(cancellationToken);
        Interlocked.Increment(ref _inFlight);
        _channel.Writer.TryWrite(new Waiting(message.PacketId, RecordUntilStoredAsync(message)));
    }

    /// <summary>Queues an acknowledgement for a message that is not recorded, in its turn.</summary>
    public ValueTask AddUnrecordedAsync(ushort packetId, CancellationToken cancellationToken)
    {
        Interlocked.Increment(ref _inFlight);
        return _channel.Writer.WriteAsync(new Waiting(packetId, null), cancellationToken);
    }

    /// <summary>Acknowledges until cancelled or finished.</summary>
    public async Task AcknowledgeAsync(Func<ushort, CancellationToken, Task> acknowledge, CancellationToken cancellationToken)
    {
        await foreach (var waiting in _channel.Reader.ReadAllAsync(cancellationToken))
        {
            _current = waiting;
            var sequence = waiting.Outcome is null ? 0 : (await waiting.Outcome.WaitAsync(cancellationToken)).Sequence;
            if (waiting.PacketId != 0)
            {
                await acknowledge(waiting.PacketId, cancellationToken);
            }

            Count(sequence);
        }
    }

    /// <summary>No more messages will be added; <see cref="AcknowledgeAsync"/> ends after the last one.</summary>
    public void Complete() => _channel.Writer.TryComplete();

    /// <summary>
    /// Gives up what has not been recorded, and waits for commits that were begun: the broker sends those messages again,
    /// and a first try that ended after the second one began would look like another message.
    /// </summary>
    public async ValueTask DisposeAsync()
    {
        _channel.Writer.TryComplete();
        await _abandon.CancelAsync();
        await EndOfAsync(_current.Outcome);
        while (_channel.Reader.TryRead(out var waiting))
        {
            await EndOfAsync(waiting.Outcome);
        }

        _abandon.Dispose();
    }

    private void Count(long sequence)
    {
        _highest = Math.Max(_highest, sequence);
        var left = Interlocked.Decrement(ref _inFlight);

        // After a failed commit, later messages may have got lower numbers: then only an empty window proves anything.
        if (Volatile.Read(ref _outOfOrder) == 0 || left == 0)
        {
            Volatile.Write(ref _outOfOrder, 0);
            Interlocked.Exchange(ref _newest, _highest);
        }
    }

    private static Task EndOfAsync(Task? outcome) =>
        outcome?.ContinueWith(_ => { }, CancellationToken.None, TaskContinuationOptions.ExecuteSynchronously, TaskScheduler.Default) ?? Task.CompletedTask;

    private async Task<InboxReceipt> RecordUntilStoredAsync(InboundMessage message)
    {
        var wait = ShortestRetry;
        while (true)
        {
            try
            {
                var receipt = await _record(message, CancellationToken.None);
                _onRecorded(message);
                return receipt;
            }
            catch (StorageUnavailableException failure)
            {
                Volatile.Write(ref _outOfOrder, 1);
                _onFailure(failure);
            }

            await Task.Delay(wait, _time, _abandon.Token);
            wait = wait * 2 < LongestRetry ? wait * 2 : LongestRetry;
        }
    }

    private readonly record struct Waiting(ushort PacketId, Task<InboxReceipt>? Outcome);
}
