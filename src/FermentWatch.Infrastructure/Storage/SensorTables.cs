namespace FermentWatch.Infrastructure.Storage;

/// <summary>What schema 2 adds for sensors: placement, calibration.</summary>
internal static class SensorTables
{
    public const string Script = "";
}
