namespace FermentWatch.Infrastructure.Storage;

/// <summary>What schema 2 adds: a part for each room of the store, run in this order in one transaction.</summary>
internal static class Schema2
{
    /// <summary>The whole script.</summary>
    public static string Script { get; } = string.Join('\n', JournalTables.Script, MappingTables.Script, AccessTables.Script, SensorTables.Script, WorkTables.Script);
}
