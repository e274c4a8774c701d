namespace FermentWatch.Infrastructure.Storage;

/// <summary>What schema 4 adds: what changed, in order, for a copy that is kept elsewhere.</summary>
internal static class Schema4
{
    /// <summary>The whole script.</summary>
    public const string Script = """
        -- What changed, in the order in which it was committed. kind: see ChangeKind. subject: the sensor, or the batch. Event times;
        -- a reading that left its series has its place within the microsecond as until_time. Rows go when the follower has passed them.
        CREATE TABLE change (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            kind INTEGER NOT NULL,
            subject TEXT NOT NULL,
            quantity INTEGER,
            from_time INTEGER NOT NULL,
            until_time INTEGER NOT NULL
        ) STRICT;

        -- How far the copy elsewhere has come, and where it goes. No row: nobody follows, and nothing is noted.
        CREATE TABLE follower (name TEXT PRIMARY KEY, target TEXT NOT NULL, change INTEGER NOT NULL) STRICT, WITHOUT ROWID;
        """;
}
