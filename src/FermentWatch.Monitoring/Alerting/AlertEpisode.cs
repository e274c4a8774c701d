using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>One time that an alert's condition held for long enough.</summary>
/// <param name="Rule">Id of the rule, such as <c>temperature-band</c>.</param>
/// <param name="Subject">What it is about: a sensor's name, or the batch key.</param>
/// <param name="Severity">How much it asks.</param>
/// <param name="BeganAt">First sample of the condition.</param>
/// <param name="RaisedAt">When the on-delay was met.</param>
/// <param name="ClearedAt">When the off-delay was met; null while it lasts.</param>
/// <param name="Because">Evidence with its numbers.</param>
public sealed record AlertEpisode(
    string Rule,
    string Subject,
    Severity Severity,
    EventTime BeganAt,
    EventTime RaisedAt,
    EventTime? ClearedAt,
    Reason Because)
{
    /// <summary>Why it ended; null while it lasts.</summary>
    public Reason? ClearedBecause { get; init; }

    /// <summary>The newest sample that says anything about it.</summary>
    public EventTime EvidenceAt { get; init; } = RaisedAt;

    /// <summary>True when it lasts only because the off-delay runs: what was not told yet need not be told any more.</summary>
    public bool IsEasing { get; init; }

    /// <summary>Where the sensor sits that it is about; null when it is not about one sensor's values.</summary>
    public Placement? Placement { get; init; }

    /// <summary>How far and how long a temperature was outside; null for what is no excursion.</summary>
    public Excursion? Excursion { get; init; }
}

/// <summary>How far and how long a temperature was outside its band.</summary>
/// <param name="LatestCelsius">Newest value that was judged. [°C]</param>
/// <param name="LimitCelsius">The limit that was crossed by the peak. [°C]</param>
/// <param name="PeakCelsius">The value farthest outside. [°C]</param>
/// <param name="Outside">Time outside that samples cover.</param>
/// <param name="DegreeHours">Distance from the limit times its duration, over the time that samples cover. [°C h]</param>
public sealed record Excursion(double LatestCelsius, double LimitCelsius, double PeakCelsius, TimeSpan Outside, double DegreeHours);
