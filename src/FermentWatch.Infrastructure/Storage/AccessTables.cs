namespace FermentWatch.Infrastructure.Storage;

/// <summary>What schema 2 adds for people, sessions and devices.</summary>
internal static class AccessTables
{
    public const string Script = "";
}
