namespace FermentWatch.Infrastructure.Influx;

/// <summary>Measurements of the copy. What they hold is told in <c>deploy/influx.md</c>; a test holds both equal.</summary>
public static class PointNames
{
    /// <summary>A reading.</summary>
    public const string Reading = "fermentwatch_reading";

    /// <summary>Where a batch will end and when, with odds.</summary>
    public const string Forecast = "fermentwatch_forecast";

    /// <summary>What the batch was doing.</summary>
    public const string Phase = "fermentwatch_phase";

    /// <summary>How many conditions of a step ahead were met.</summary>
    public const string Gate = "fermentwatch_gate";

    /// <summary>An alert that was raised, or ended.</summary>
    public const string Alert = "fermentwatch_alert";

    /// <summary>Which sensor belonged to which batch.</summary>
    public const string Batch = "fermentwatch_batch";

    /// <summary>Counts of messages and readings, taken about once a minute while the server answers.</summary>
    public const string Ingest = "fermentwatch_ingest";

    /// <summary>All of them.</summary>
    public static IReadOnlyList<string> All { get; } = [Reading, Forecast, Phase, Gate, Alert, Batch, Ingest];
}
