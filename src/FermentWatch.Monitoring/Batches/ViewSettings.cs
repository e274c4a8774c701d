using FermentWatch.Monitoring.Alerting;

namespace FermentWatch.Monitoring.Batches;

/// <summary>What the maker can set about the way in which a batch is looked at.</summary>
public sealed record ViewSettings
{
    /// <summary>The settings that come with the product.</summary>
    public static ViewSettings Default { get; } = new();

    /// <summary>When alerts speak.</summary>
    public AlertSettings Alerts { get; init; } = AlertSettings.Default;
}
