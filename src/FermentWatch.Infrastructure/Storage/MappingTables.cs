namespace FermentWatch.Infrastructure.Storage;

/// <summary>What schema 2 adds for topic mappings made on the page.</summary>
internal static class MappingTables
{
    public const string Script = "";
}
