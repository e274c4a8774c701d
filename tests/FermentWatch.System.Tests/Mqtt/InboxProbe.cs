using System.Text;
using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.System.Tests.Mqtt;

/// <summary>Stands at the seam to the store: shows what would be recorded, and can be told to fail or to take its time.</summary>
internal sealed class InboxProbe
{
    private readonly Lock _lock = new();
    private readonly List<InboundMessage> _messages = [];
    private readonly List<(string Session, long Sequence)> _confirmed = [];
    private volatile bool _failing;
    private volatile TaskCompletionSource? _gate;
    private Task _turn = Task.CompletedTask;
    private int _asked;
    private int _failures;

    public IReadOnlyList<InboundMessage> Messages
    {
        get
        {
            lock (_lock)
            {
                return [.. _messages];
            }
        }
    }

    public IReadOnlyList<(string Session, long Sequence)> Confirmed
    {
        get
        {
            lock (_lock)
            {
                return [.. _confirmed];
            }
        }
    }

    /// <summary>How often a message was handed over, recorded or not.</summary>
    public int Asked => Volatile.Read(ref _asked);

    public int Failures => Volatile.Read(ref _failures);

    public bool Failing
    {
        get => _failing;
        set => _failing = value;
    }

    public static TopicInterest Interest(params string[] filters) => TopicInterest.Of(filters.Select(TopicFilter.Parse));

    public static string Text(InboundMessage message) => Encoding.UTF8.GetString(message.Payload.Span);

    /// <summary>From now on commits wait until the gate opens.</summary>
    public void CloseGate() => _gate = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);

    public void OpenGate()
    {
        _gate?.SetResult();
        _gate = null;
    }

    public async ValueTask<InboxReceipt> RecordAsync(InboundMessage message, CancellationToken cancellationToken)
    {
        var mine = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        var before = Interlocked.Exchange(ref _turn, mine.Task);
        Interlocked.Increment(ref _asked);
        try
        {
            // One after the other in the order of the calls, as the store's single writer does.
            await before;
            if (_gate is { } gate)
            {
                await gate.Task.WaitAsync(cancellationToken);
            }

            return Record(message);
        }
        finally
        {
            mine.SetResult();
        }
    }

    public ValueTask ConfirmAsync(string session, long sequence, CancellationToken cancellationToken)
    {
        lock (_lock)
        {
            _confirmed.Add((session, sequence));
        }

        return ValueTask.CompletedTask;
    }

    private InboxReceipt Record(InboundMessage message)
    {
        if (_failing)
        {
            Interlocked.Increment(ref _failures);
            throw new StorageUnavailableException("disk full");
        }

        lock (_lock)
        {
            _messages.Add(message);
            return new InboxReceipt(_messages.Count, AlreadyRecorded: false);
        }
    }
}
