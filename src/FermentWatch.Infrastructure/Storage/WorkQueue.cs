using System.Diagnostics;
using System.Diagnostics.CodeAnalysis;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>What waits for the writer thread: messages to record, which go first, and all other work.</summary>
/// <remarks>Bounded: beyond <see cref="Capacity"/> of either kind, whoever adds more waits.</remarks>
[SuppressMessage("Reliability", "CA1001", Justification = "The semaphores hold nothing of the operating system, and somebody may still wait at one when the store closes.")]
internal sealed class WorkQueue
{
    /// <summary>Most items of each kind that wait or are being written.</summary>
    public const int Capacity = 4096;

    /// <summary>Most messages in one transaction.</summary>
    private const int LargestGroup = 1000;

    /// <summary>Longest time that a transaction lingers for more messages, and only while there is a backlog.</summary>
    private static readonly TimeSpan LongestLinger = TimeSpan.FromMilliseconds(20);

    /// <summary>A linger ends when nothing more came for this long.</summary>
    private static readonly TimeSpan QuietSlice = TimeSpan.FromMilliseconds(1);

    private readonly object _gate = new();
    private readonly Queue<WorkItem> _messages = new();
    private readonly Queue<WorkItem> _work = new();
    private readonly SemaphoreSlim _messageRoom = new(Capacity, Capacity);
    private readonly SemaphoreSlim _workRoom = new(Capacity, Capacity);
    private int _wakeAt = int.MaxValue;
    private int _lastGroup;
    private bool _closed;

    /// <summary>Whether messages wait: other work then keeps short.</summary>
    public bool MessagesWait
    {
        get
        {
            lock (_gate)
            {
                return _messages.Count > 0;
            }
        }
    }

    /// <summary>Adds an item when there is room.</summary>
    /// <exception cref="StorageUnavailableException">The store is closing.</exception>
    public async ValueTask AddAsync(WorkItem item, bool isMessage, CancellationToken cancellationToken)
    {
        var room = isMessage ? _messageRoom : _workRoom;
        RefuseWhenClosed();
        await room.WaitAsync(cancellationToken).ConfigureAwait(false);
        lock (_gate)
        {
            if (_closed)
            {
                // Whoever waits behind is let through to the same answer.
                room.Release();
            }

            RefuseWhenClosed();
            (isMessage ? _messages : _work).Enqueue(item);
            if (_messages.Count + _work.Count >= _wakeAt)
            {
                Monitor.Pulse(_gate);
            }
        }
    }

    /// <summary>Takes the next transaction's items: all waiting messages, else one piece of other work. False once closed and empty.</summary>
    /// <param name="group">Filled with the items.</param>
    /// <param name="workFirst">Take other work even though messages wait: its turn after each group of messages.</param>
    /// <param name="areMessages">Which of the two was taken.</param>
    public bool Take(List<WorkItem> group, bool workFirst, out bool areMessages)
    {
        areMessages = false;
        lock (_gate)
        {
            while (_messages.Count == 0 && _work.Count == 0)
            {
                if (_closed)
                {
                    return false;
                }

                _wakeAt = 1;
                Monitor.Wait(_gate);
                _wakeAt = int.MaxValue;
            }

            if (_work.Count > 0 && (workFirst || _messages.Count == 0))
            {
                group.Add(_work.Dequeue());
                return true;
            }

            areMessages = true;
            Drain(group);
            if (_lastGroup > 1)
            {
                Linger(group);
            }

            _lastGroup = group.Count;
            return true;
        }
    }

    /// <summary>Gives back the room of finished items.</summary>
    public void Release(int count, bool areMessages) => (areMessages ? _messageRoom : _workRoom).Release(count);

    /// <summary>Takes no more items; those that wait are still written.</summary>
    public void Close()
    {
        lock (_gate)
        {
            _closed = true;
            Monitor.Pulse(_gate);
        }
    }

    private void RefuseWhenClosed()
    {
        lock (_gate)
        {
            if (_closed)
            {
                throw new StorageUnavailableException("The store is closing: nothing more is written.");
            }
        }
    }

    /// <summary>
    /// Those who were answered by the last transaction mostly come back at once, but one by one: taking them as they come
    /// would pay one fsync for two or three messages. So wait until as many came as last time, or none came for a moment.
    /// </summary>
    private void Linger(List<WorkItem> group)
    {
        var since = Stopwatch.GetTimestamp();
        while (!_closed && group.Count < Math.Min(_lastGroup, LargestGroup) && Stopwatch.GetElapsedTime(since) < LongestLinger)
        {
            var before = group.Count;
            _wakeAt = _work.Count + _lastGroup - before;
            Monitor.Wait(_gate, QuietSlice);
            _wakeAt = int.MaxValue;
            Drain(group);
            if (group.Count == before)
            {
                return;
            }
        }
    }

    private void Drain(List<WorkItem> group)
    {
        while (group.Count < LargestGroup && _messages.TryDequeue(out var item))
        {
            group.Add(item);
        }
    }
}
