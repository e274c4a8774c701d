namespace FermentWatch.Infrastructure.Storage;

/// <summary>What schema 3 adds: photos of the journal, and bands that the maker sets for stages.</summary>
internal static class Schema3
{
    /// <summary>The whole script.</summary>
    public const string Script = """
        -- A photo of a journal entry, made anew by us: upright JPEG without any of the camera's data. small: a smaller one for lists.
        CREATE TABLE photo (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            batch TEXT NOT NULL REFERENCES batch(id),
            width INTEGER NOT NULL,
            height INTEGER NOT NULL,
            jpeg BLOB NOT NULL,
            small BLOB NOT NULL
        ) STRICT;
        CREATE INDEX photo_batch ON photo (batch);

        -- stage_bands: JSON, a list of stage (its number), low and high in degrees Celsius; null for none.
        ALTER TABLE batch ADD COLUMN stage_bands TEXT;
        """;
}
