using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>Holds the status of the connection to an external broker, written from several tasks.</summary>
internal sealed class StatusBoard(TimeProvider time)
{
    private readonly Lock _lock = new();
    private ExternalBrokerStatus _status = new(BrokerConnectionState.Stopped, ReceivedAt.From(time.GetUtcNow()), null, null, 0, null, null);

    public ExternalBrokerStatus Status
    {
        get
        {
            lock (_lock)
            {
                return _status;
            }
        }
    }

    /// <summary>A new try begins; the problem of the last one stays to be seen until this one succeeds.</summary>
    public void Connecting() => Change(was => was with { State = BrokerConnectionState.Connecting });

    public void Greeted(string version, bool resumed) => Change(was => was with { ProtocolVersion = version, SessionResumed = resumed });

    public void Connected() => Change(was => was with { State = BrokerConnectionState.Connected, Problem = null });

    public void Ended(BrokerConnectionState state, Reason? problem) => Change(was => was with { State = state, Problem = problem });

    public void StorageFails(string message) =>
        Change(was => was with { Problem = Reason.Of(BrokerProblems.StorageUnavailable, new ReasonValue.Name(message)) });

    public void Recorded(ReceivedAt at) => Change(was => was with
    {
        Recorded = was.Recorded + 1,
        LastMessageAt = at,
        Problem = was.Problem?.Code == BrokerProblems.StorageUnavailable ? null : was.Problem,
    });

    private void Change(Func<ExternalBrokerStatus, ExternalBrokerStatus> change)
    {
        lock (_lock)
        {
            var next = change(_status);
            _status = next.State == _status.State ? next : next with { Since = ReceivedAt.From(time.GetUtcNow()) };
        }
    }
}
