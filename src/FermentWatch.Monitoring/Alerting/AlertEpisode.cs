using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>How much an alert asks of the maker.</summary>
public enum Severity
{
    /// <summary>For the digest.</summary>
    Info = 0,

    /// <summary>Something to do, in its time.</summary>
    Action = 1,

    /// <summary>Something is wrong.</summary>
    Warning = 2,

    /// <summary>Now.</summary>
    Urgent = 3,
}

/// <summary>One time that an alert's condition held for long enough, found over samples in event order.</summary>
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
    Reason Because);
