namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>What the embedded broker knows of one connection: the packet in work, and which acknowledgements are still to go out.</summary>
/// <param name="session">Session string of the client.</param>
internal sealed class ConnectionLedger(string session)
{
    private readonly Lock _lock = new();
    private int _unacknowledged;
    private long _newest;
    private long _confirmed;

    /// <summary>Session string of the client.</summary>
    public string Session { get; } = session;

    /// <summary>Packet identifier of the message that the connection is handing over; 0 for quality of service 0.</summary>
    public ushort PacketId { get; private set; }

    /// <summary>A publish packet came in.</summary>
    public void Received(ushort packetId)
    {
        PacketId = packetId;
        if (packetId != 0)
        {
            lock (_lock)
            {
                _unacknowledged++;
            }
        }
    }

    /// <summary>Its message is on disk.</summary>
    public void Recorded(long sequence)
    {
        lock (_lock)
        {
            _newest = Math.Max(_newest, sequence);
        }
    }

    /// <summary>An acknowledgement is on its way to the client.</summary>
    public void Acknowledged()
    {
        lock (_lock)
        {
            _unacknowledged--;
        }
    }

    /// <summary>
    /// The client says goodbye. True, with the newest number recorded, when every acknowledgement went out before:
    /// one that says goodbye earlier did not wait for them and may send those messages again.
    /// </summary>
    public bool TryConfirm(out long sequence)
    {
        lock (_lock)
        {
            sequence = _newest;
            if (_unacknowledged > 0 || _newest <= _confirmed)
            {
                return false;
            }

            _confirmed = _newest;
            return true;
        }
    }
}
