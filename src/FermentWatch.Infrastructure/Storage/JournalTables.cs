namespace FermentWatch.Infrastructure.Storage;

/// <summary>What schema 2 adds for batches and the journal.</summary>
internal static class JournalTables
{
    public const string Script = "";
}
