namespace FermentWatch.Infrastructure.Storage;

/// <summary>What schema 2 adds for people, sign-ins and devices.</summary>
internal static class AccessTables
{
    public const string Script = """
        -- password and invitation hold hashes. name_key is the name by which two spellings are the same person.
        CREATE TABLE person (
            id INTEGER PRIMARY KEY,
            name TEXT NOT NULL,
            name_key TEXT NOT NULL UNIQUE,
            role INTEGER NOT NULL,
            password TEXT,
            disabled INTEGER NOT NULL,
            invitation TEXT UNIQUE,
            invited_until INTEGER,
            created INTEGER NOT NULL
        ) STRICT;

        -- One row per browser that is signed in; key is the hash of what its cookie holds.
        CREATE TABLE sign_in (
            key TEXT PRIMARY KEY,
            person INTEGER NOT NULL REFERENCES person(id),
            begun INTEGER NOT NULL,
            last_seen INTEGER NOT NULL,
            browser TEXT NOT NULL
        ) STRICT, WITHOUT ROWID;
        CREATE INDEX sign_in_person ON sign_in (person);

        -- key is the hash of the device's key, which is its password at the broker too.
        CREATE TABLE device (
            id INTEGER PRIMARY KEY,
            name TEXT NOT NULL UNIQUE,
            key TEXT NOT NULL UNIQUE,
            prefix TEXT NOT NULL,
            created INTEGER NOT NULL
        ) STRICT;
        """;
}
