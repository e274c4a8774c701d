namespace FermentWatch.Infrastructure.Storage;

/// <summary>What schema 2 adds for work on vessels and for readings that come by file.</summary>
internal static class WorkTables
{
    public const string Script = """
        -- A stretch in which somebody works on a batch's vessel. done_at: when it ended before until_time; null while it may go on.
        CREATE TABLE work (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            batch TEXT NOT NULL REFERENCES batch(id),
            from_time INTEGER NOT NULL,
            until_time INTEGER NOT NULL,
            done_at INTEGER
        ) STRICT;
        CREATE INDEX work_batch ON work (batch, from_time);

        -- imported: 1 for a stretch that came with a file of readings, which the configuration does not take away.
        ALTER TABLE attachment ADD COLUMN imported INTEGER NOT NULL DEFAULT 0;
        """;
}
