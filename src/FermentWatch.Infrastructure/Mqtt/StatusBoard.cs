using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>Holds the status of the connection to an external broker, written from several tasks.</summary>
internal sealed class StatusBoard(TimeProvider time)
{
    private readonly Lock _lock = new();
    private long _recorded;
    private long _lastMessageAt;
    private volatile bool _storageFails;
    private ExternalBrokerStatus _status = new(BrokerConnectionState.Stopped, ReceivedAt.From(time.GetUtcNow()), null, null, 0, null, null);

    public ExternalBrokerStatus Status
    {
        get
        {
            lock (_lock)
            {
                return _status with
                {
                    Recorded = Interlocked.Read(ref _recorded),
                    LastMessageAt = Interlocked.Read(ref _lastMessageAt) is var at and not 0 ? new ReceivedAt(at) : null,
                };
            }
        }
    }

    /// <summary>A new try begins; the problem of the last one stays to be seen until this one succeeds.</summary>
    public void Connecting() => Change(was => was with { State = BrokerConnectionState.Connecting });

    public void Greeted(string version, bool resumed) => Change(was => was with { ProtocolVersion = version, SessionResumed = resumed });

    public void Connected() => Change(was => was with { State = BrokerConnectionState.Connected, Problem = null });

    public void Ended(BrokerConnectionState state, Reason? problem) => Change(was => was with { State = state, Problem = problem });

    public void StorageFails(string message)
    {
        _storageFails = true;
        Change(was => was with { Problem = Reason.Of(BrokerProblems.StorageUnavailable, new ReasonValue.Name(message)) });
    }

    public void Recorded(ReceivedAt at)
    {
        Interlocked.Increment(ref _recorded);
        Interlocked.Exchange(ref _lastMessageAt, at.UnixMicroseconds);
        if (_storageFails)
        {
            _storageFails = false;
            Change(was => was.Problem?.Code == BrokerProblems.StorageUnavailable ? was with { Problem = null } : was);
        }
    }

    private void Change(Func<ExternalBrokerStatus, ExternalBrokerStatus> change)
    {
        lock (_lock)
        {
            var next = change(_status);
            _status = next.State == _status.State ? next : next with { Since = ReceivedAt.From(time.GetUtcNow()) };
        }
    }
}
