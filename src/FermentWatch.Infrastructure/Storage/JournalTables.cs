namespace FermentWatch.Infrastructure.Storage;

/// <summary>What schema 2 adds for batches and the journal.</summary>
internal static class JournalTables
{
    /// <summary>Batches known before come from the configuration file. A batch that is put away keeps everything and is not listed.</summary>
    public const string Script = """
        ALTER TABLE batch ADD COLUMN origin TEXT NOT NULL DEFAULT 'file';
        ALTER TABLE batch ADD COLUMN goal TEXT;
        ALTER TABLE batch ADD COLUMN headspace_liters REAL;
        ALTER TABLE batch ADD COLUMN yeast TEXT;
        ALTER TABLE batch ADD COLUMN nitrogen_demand INTEGER;
        ALTER TABLE batch ADD COLUMN stage_handling INTEGER NOT NULL DEFAULT 1;
        ALTER TABLE batch ADD COLUMN archived_at INTEGER;
        """;
}
