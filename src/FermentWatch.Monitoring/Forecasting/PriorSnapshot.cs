namespace FermentWatch.Monitoring.Forecasting;

/// <summary>What is assumed about ferments before any reading, as stored with each forecast.</summary>
/// <param name="Version">Name of the snapshot; <c>shipped-1</c> is the one that comes with the product.</param>
public sealed record PriorSnapshot(string Version)
{
    /// <summary>The wide assumptions that come with the product.</summary>
    public static PriorSnapshot Shipped { get; } = new("shipped-1");
}
