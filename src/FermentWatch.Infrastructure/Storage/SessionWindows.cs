namespace FermentWatch.Infrastructure.Storage;

/// <summary>One deliverer of messages, as the writer remembers it.</summary>
internal sealed class SessionWindow
{
    /// <summary>Number of the session.</summary>
    public required long Id { get; init; }

    /// <summary>Messages with a packet id and without the DUP flag recorded so far.</summary>
    public required long Recorded { get; set; }

    /// <summary>Every message up to this number is known to be acknowledged, as the deliverer sees it.</summary>
    public required long Confirmed { get; set; }

    /// <summary>Newest arrival, to the hour: it only tells sessions long gone.</summary>
    public required long LastReceived { get; set; }

    /// <summary>Whether the row is behind.</summary>
    public bool IsDirty { get; set; }
}

/// <summary>The window of messages that can still be in flight, session by session: on disk, so that it outlives our own kill.</summary>
/// <remarks>
/// A message leaves the window when the deliverer is known to have seen our acknowledgement, when its packet id is used by another
/// message, or when <see cref="Length"/> newer messages of its session (DUP and quality of service 0 not counted) were recorded:
/// deliverers keep far fewer unacknowledged messages under way. Common practice, no source; a receive maximum of 64 is what we ask for.
/// </remarks>
internal sealed class SessionWindows(WriteConnection connection)
{
    /// <summary>How many newer messages of a session prove that an older one was acknowledged.</summary>
    public const int Length = 100;

    private const int MostRemembered = 10_000;

    private const long LastReceivedSteps = 3600L * 1_000_000;

    private readonly Dictionary<string, SessionWindow> _sessions = new(StringComparer.Ordinal);

    /// <summary>The session by its name; created at its first message.</summary>
    public SessionWindow Of(string name)
    {
        if (_sessions.TryGetValue(name, out var session))
        {
            return session;
        }

        session = Load(name) ?? Create(name);
        _sessions[name] = session;
        return session;
    }

    /// <summary>The number of the message of which this one is a redelivery, or null when it is a message of its own.</summary>
    public long? RedeliveryOf(SessionWindow session, int packetId, long topic, long hash)
    {
        using var rows = connection
            .Statement("SELECT sequence, nth FROM in_flight WHERE session = ?1 AND packet_id = ?2 AND topic = ?3 AND hash = ?4")
            .Rows(session.Id, packetId, topic, hash);
        if (!rows.Read())
        {
            return null;
        }

        var sequence = rows.GetInt64(0);
        return sequence > session.Confirmed && session.Recorded - rows.GetInt64(1) < Length ? sequence : null;
    }

    /// <summary>Enters a message of its own.</summary>
    public void Enter(SessionWindow session, InboundMessage message, long sequence, long topic, long hash)
    {
        if (message.ReceivedAt.UnixMicroseconds - session.LastReceived > LastReceivedSteps)
        {
            session.LastReceived = message.ReceivedAt.UnixMicroseconds;
            session.IsDirty = true;
        }

        if (message.PacketId == 0)
        {
            return;
        }

        if (!message.Duplicate)
        {
            session.Recorded++;
            // The newest row carries the count, so the session's own row can lag by a whole window.
            session.IsDirty |= session.Recorded % Length == 0;
        }

        connection.Statement("INSERT OR REPLACE INTO in_flight (session, packet_id, sequence, nth, topic, hash) VALUES (?1, ?2, ?3, ?4, ?5, ?6)")
            .Run(session.Id, (int)message.PacketId, sequence, session.Recorded, topic, hash);
    }

    /// <summary>Takes in that the deliverer has seen our acknowledgement of every message up to a number.</summary>
    public void Confirm(string name, long sequence)
    {
        var session = Of(name);
        if (sequence > session.Confirmed)
        {
            session.Confirmed = sequence;
            session.IsDirty = true;
        }
    }

    /// <summary>Writes the changed sessions and takes out what left the window.</summary>
    public void Flush()
    {
        foreach (var session in _sessions.Values)
        {
            if (session.IsDirty)
            {
                Flush(session);
            }
        }

        if (_sessions.Count > MostRemembered)
        {
            _sessions.Clear();
        }
    }

    /// <summary>Forgets sessions of which nothing was heard since <paramref name="oldest"/>, a few at a time.</summary>
    public int ForgetBefore(long oldest)
    {
        Flush();
        _sessions.Clear();
        var gone = connection.Statement("SELECT id FROM session WHERE last_received < ?1 LIMIT 200").List(row => row.GetInt64(0), oldest);
        foreach (var id in gone)
        {
            connection.Statement("DELETE FROM in_flight WHERE session = ?1").Run(id);
            connection.Statement("DELETE FROM session WHERE id = ?1").Run(id);
        }

        return gone.Count;
    }

    private void Flush(SessionWindow session)
    {
        connection.Statement("UPDATE session SET recorded = ?2, confirmed = ?3, last_received = ?4 WHERE id = ?1")
            .Run(session.Id, session.Recorded, session.Confirmed, session.LastReceived);
        connection.Statement("DELETE FROM in_flight WHERE session = ?1 AND (sequence <= ?2 OR nth <= ?3)")
            .Run(session.Id, session.Confirmed, session.Recorded - Length);
        session.IsDirty = false;
    }

    private SessionWindow? Load(string name)
    {
        using var rows = connection
            .Statement("""
                SELECT id, max(recorded, coalesce((SELECT max(nth) FROM in_flight WHERE session = id), 0)), confirmed, last_received
                FROM session WHERE name = ?1
                """)
            .Rows(name);
        return rows.Read()
            ? new SessionWindow
            {
                Id = rows.GetInt64(0),
                Recorded = rows.GetInt64(1),
                Confirmed = rows.GetInt64(2),
                LastReceived = rows.GetInt64(3),
            }
            : null;
    }

    private SessionWindow Create(string name)
    {
        var id = connection.Statement("INSERT INTO session (name, recorded, confirmed, last_received) VALUES (?1, 0, 0, 0) RETURNING id").Number(name)
            ?? throw new InvalidOperationException("The session table returned no number for a new row.");
        return new SessionWindow { Id = id, Recorded = 0, Confirmed = 0, LastReceived = 0 };
    }
}
