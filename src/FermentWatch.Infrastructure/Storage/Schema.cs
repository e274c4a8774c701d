namespace FermentWatch.Infrastructure.Storage;

/// <summary>The tables of schema 1.</summary>
/// <remarks>
/// <para>Times are microseconds since 1970 in UTC; enumerations are stored by their number.</para>
/// <para>There is no table of forecast bins: the 15-minute bins on which a forecast stands are computed from the readings
/// (a year of a reading a minute is read in well under a second), so a stored copy could only go stale. Charts over
/// long ranges read <c>rollup</c>.</para>
/// <para>There is no cached batch state either: the view is a pure function of the facts. <c>batch_state</c> holds the
/// revision alone, by which a result computed off the writer thread finds out that a journal edit overtook it.</para>
/// </remarks>
internal static class Schema
{
    /// <summary>Marks the file as ours in its header: the letters FWat.</summary>
    public const int ApplicationId = 0x46576174;

    /// <summary>Scripts by the version to which they lead, from version 1 on. A released script is never edited.</summary>
    public static IReadOnlyList<string> Scripts { get; } = [Version1, Schema2.Script, Schema3.Script, Schema4.Script, Schema5.Script];

    private const string Version1 = """
        -- Who delivers messages. recorded counts its messages with a packet id that came without the DUP flag.
        CREATE TABLE session (
            id INTEGER PRIMARY KEY,
            name TEXT NOT NULL UNIQUE,
            recorded INTEGER NOT NULL,
            confirmed INTEGER NOT NULL,
            last_received INTEGER NOT NULL
        ) STRICT;

        -- The newest message under each packet id of a session: what a redelivery can be compared with.
        -- nth is the session's count of recorded messages at that message.
        CREATE TABLE in_flight (
            session INTEGER NOT NULL REFERENCES session(id),
            packet_id INTEGER NOT NULL,
            sequence INTEGER NOT NULL,
            nth INTEGER NOT NULL,
            topic INTEGER NOT NULL,
            hash INTEGER NOT NULL,
            PRIMARY KEY (session, packet_id)
        ) STRICT, WITHOUT ROWID;

        -- Mapped topics and the last message of each, which outlives the pruning of the inbox.
        CREATE TABLE topic (
            id INTEGER PRIMARY KEY,
            name TEXT NOT NULL UNIQUE,
            messages INTEGER NOT NULL,
            last_sequence INTEGER,
            last_received INTEGER,
            last_size INTEGER,
            last_outcome INTEGER,
            last_payload BLOB
        ) STRICT;

        CREATE TABLE inbox (
            sequence INTEGER PRIMARY KEY,
            topic INTEGER NOT NULL REFERENCES topic(id),
            received INTEGER NOT NULL,
            session INTEGER NOT NULL,
            packet_id INTEGER NOT NULL,
            duplicate INTEGER NOT NULL,
            last_known INTEGER NOT NULL,
            size INTEGER NOT NULL,
            hash INTEGER NOT NULL,
            outcome INTEGER NOT NULL,
            reasons TEXT,
            payload BLOB NOT NULL
        ) STRICT;
        -- Partly read (3), rejected (4), too large (5): shown newest first.
        CREATE INDEX inbox_refused ON inbox (sequence) WHERE outcome IN (3, 4, 5);

        -- Counts that outlive the pruning of the inbox.
        CREATE TABLE tally (name TEXT PRIMARY KEY, count INTEGER NOT NULL) STRICT, WITHOUT ROWID;

        -- How far each follower of the inbox has come.
        CREATE TABLE cursor (name TEXT PRIMARY KEY, sequence INTEGER NOT NULL) STRICT, WITHOUT ROWID;

        -- last_device and last_device_received are the history from which the next device time is judged.
        CREATE TABLE series (
            id INTEGER PRIMARY KEY,
            sensor TEXT NOT NULL,
            quantity INTEGER NOT NULL,
            readings INTEGER NOT NULL,
            last_at INTEGER,
            last_received INTEGER,
            last_device INTEGER,
            last_device_received INTEGER,
            UNIQUE (sensor, quantity)
        ) STRICT;

        -- t: event time. n: inbox sequence of the message. device_offset: device time minus t, null without a device time.
        -- received_offset: arrival minus t. raw: the number as sent, null when it equals value.
        -- quality: 1 clock not trusted, 2 superseded by a correction. Offsets, because small integers take 0 to 4 bytes.
        CREATE TABLE reading (
            series INTEGER NOT NULL REFERENCES series(id),
            t INTEGER NOT NULL,
            n INTEGER NOT NULL,
            device_offset INTEGER,
            received_offset INTEGER NOT NULL,
            unit INTEGER NOT NULL,
            raw REAL,
            value REAL NOT NULL,
            quality INTEGER NOT NULL,
            PRIMARY KEY (series, t, n)
        ) STRICT, WITHOUT ROWID;

        -- Every event time that is not the device's own, and why.
        CREATE TABLE clock_fix (
            series INTEGER NOT NULL REFERENCES series(id),
            n INTEGER NOT NULL,
            device_time INTEGER,
            t INTEGER NOT NULL,
            code TEXT NOT NULL,
            PRIMARY KEY (series, n)
        ) STRICT, WITHOUT ROWID;

        -- width in seconds: 600 or 3600. Corrected readings count once, with the value that holds.
        CREATE TABLE rollup (
            series INTEGER NOT NULL REFERENCES series(id),
            width INTEGER NOT NULL,
            start INTEGER NOT NULL,
            n INTEGER NOT NULL,
            min REAL NOT NULL,
            max REAL NOT NULL,
            sum REAL NOT NULL,
            PRIMARY KEY (series, width, start)
        ) STRICT, WITHOUT ROWID;

        CREATE TABLE batch (
            id TEXT PRIMARY KEY,
            name TEXT NOT NULL,
            kind INTEGER NOT NULL,
            vessel TEXT,
            volume_liters REAL,
            inoculated INTEGER NOT NULL,
            original_gravity REAL,
            band_low_celsius REAL,
            band_high_celsius REAL,
            tolerance_percent REAL,
            listed INTEGER NOT NULL
        ) STRICT, WITHOUT ROWID;

        CREATE TABLE attachment (
            batch TEXT NOT NULL REFERENCES batch(id),
            sensor TEXT NOT NULL,
            from_time INTEGER NOT NULL,
            until_time INTEGER,
            placement INTEGER NOT NULL,
            PRIMARY KEY (batch, sensor, from_time)
        ) STRICT, WITHOUT ROWID;

        CREATE TABLE batch_state (batch TEXT PRIMARY KEY REFERENCES batch(id), revision INTEGER NOT NULL) STRICT, WITHOUT ROWID;

        CREATE TABLE journal (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            batch TEXT NOT NULL REFERENCES batch(id),
            kind INTEGER NOT NULL,
            at INTEGER NOT NULL,
            body TEXT NOT NULL,
            supersedes INTEGER REFERENCES journal(id),
            undone_at INTEGER,
            written_at INTEGER NOT NULL,
            external_key TEXT UNIQUE
        ) STRICT;
        CREATE INDEX journal_batch ON journal (batch, at);

        -- A forecast stays as it was made. Another one for the same grid line is added when late facts changed it.
        CREATE TABLE forecast (
            batch TEXT NOT NULL REFERENCES batch(id),
            as_of INTEGER NOT NULL,
            engine_version TEXT NOT NULL,
            prior TEXT NOT NULL,
            made_at INTEGER NOT NULL,
            quantiles TEXT NOT NULL,
            PRIMARY KEY (batch, as_of, engine_version, prior, made_at)
        ) STRICT, WITHOUT ROWID;

        -- The alert set of a batch, and under the empty key that of the service itself: facts, never a cache.
        CREATE TABLE alert (batch TEXT PRIMARY KEY, body TEXT NOT NULL, saved_at INTEGER NOT NULL) STRICT, WITHOUT ROWID;

        -- What the service must remember about itself, such as its name at an external broker.
        CREATE TABLE property (name TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT, WITHOUT ROWID;

        -- state: 1 waiting, 2 sent, 3 given up, 4 overtaken before it was sent.
        CREATE TABLE outbox (
            key TEXT PRIMARY KEY,
            batch TEXT NOT NULL,
            channel TEXT NOT NULL,
            body TEXT NOT NULL,
            created_at INTEGER NOT NULL,
            next_attempt_at INTEGER NOT NULL,
            attempts INTEGER NOT NULL,
            state INTEGER NOT NULL,
            finished_at INTEGER,
            last_error TEXT
        ) STRICT, WITHOUT ROWID;
        CREATE INDEX outbox_due ON outbox (next_attempt_at) WHERE state = 1;
        """;
}
