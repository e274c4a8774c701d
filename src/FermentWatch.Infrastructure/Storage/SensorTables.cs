namespace FermentWatch.Infrastructure.Storage;

/// <summary>What schema 2 adds for sensors: placement, calibration.</summary>
internal static class SensorTables
{
    /// <summary>kind: 1 gravity from inclination, 2 gravity by hand readings. A row is added and retired, never changed.
    /// Batches in attached_on_page keep the sensors that they were given on the page: those of the configuration do not count any more.</summary>
    public const string Script = """
        CREATE TABLE calibration (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            sensor TEXT NOT NULL,
            quantity INTEGER NOT NULL,
            from_time INTEGER NOT NULL,
            kind INTEGER NOT NULL,
            body TEXT NOT NULL,
            created_at INTEGER NOT NULL,
            retired_at INTEGER
        ) STRICT;
        CREATE INDEX calibration_sensor ON calibration (sensor, from_time);

        CREATE TABLE attached_on_page (batch TEXT PRIMARY KEY REFERENCES batch(id)) STRICT, WITHOUT ROWID;
        """;
}
