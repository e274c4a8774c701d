namespace FermentWatch.Infrastructure.Storage;

/// <summary>What schema 2 adds for topic mappings made on the page.</summary>
internal static class MappingTables
{
    public const string Script = """
        -- Mappings made on the page; those of the configuration stay in its file. fields: a JSON array of a pointer (null: the whole
        -- message) and the number of a unit. A retired mapping reads nothing more; its readings stay.
        CREATE TABLE mapping (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            sensor TEXT NOT NULL,
            filter TEXT NOT NULL,
            fields TEXT NOT NULL,
            time_pointer TEXT,
            time_format INTEGER,
            created_at INTEGER NOT NULL,
            retired_at INTEGER
        ) STRICT;

        -- A change of unit that still has to reach back to readings, so that a restart goes on with it.
        CREATE TABLE unit_change (
            sensor TEXT NOT NULL,
            quantity INTEGER NOT NULL,
            unit_was INTEGER NOT NULL,
            unit_is INTEGER NOT NULL,
            PRIMARY KEY (sensor, quantity)
        ) STRICT, WITHOUT ROWID;

        -- Topics that the reader does not want to see in the listening list.
        CREATE TABLE ignored_topic (topic TEXT PRIMARY KEY, ignored_at INTEGER NOT NULL) STRICT, WITHOUT ROWID;
        """;
}
