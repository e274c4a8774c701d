namespace FermentWatch.Infrastructure.Storage;

/// <summary>What schema 5 adds: bench trials and who tastes them.</summary>
internal static class Schema5
{
    /// <summary>The whole script.</summary>
    public const string Script = """
        -- A bench trial. state: see TrialState. body: the trial as the library writes it; work: what was done about it. revision counts changes.
        CREATE TABLE trial (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            batch TEXT NOT NULL REFERENCES batch(id),
            state INTEGER NOT NULL,
            body TEXT NOT NULL,
            work TEXT NOT NULL,
            made_at INTEGER NOT NULL,
            changed_at INTEGER NOT NULL,
            revision INTEGER NOT NULL
        ) STRICT;
        CREATE INDEX trial_batch ON trial (batch, id);

        -- The guest code of a trial, one at a time. code: what the maker is shown again, encrypted under the data directory's keys.
        CREATE TABLE trial_guest (
            trial INTEGER PRIMARY KEY REFERENCES trial(id),
            code_hash TEXT NOT NULL UNIQUE,
            code TEXT NOT NULL,
            expires_at INTEGER NOT NULL
        ) STRICT;

        -- Which telephone sits at which place of a tasting: the hash of the key that its browser keeps.
        CREATE TABLE trial_seat (
            trial INTEGER NOT NULL REFERENCES trial(id),
            taster TEXT NOT NULL,
            key_hash TEXT NOT NULL UNIQUE,
            taken_at INTEGER NOT NULL,
            PRIMARY KEY (trial, taster)
        ) STRICT, WITHOUT ROWID;
        """;
}
