using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>Where an alert stands. Stored by number: never renumber.</summary>
public enum AlertStanding
{
    /// <summary>It lasts.</summary>
    Raised = 1,

    /// <summary>It is over.</summary>
    Cleared = 2,

    /// <summary>Later facts say that it never was.</summary>
    Withdrawn = 3,

    /// <summary>It was over before we learned of it.</summary>
    Past = 4,
}

/// <summary>An alert and what was said about it. A fact on disk: kept while the batch lives.</summary>
/// <param name="Key">Stable key: batch, rule, subject and number.</param>
/// <param name="Rule">Id of the rule.</param>
/// <param name="Subject">What it is about.</param>
/// <param name="Severity">How much it asks.</param>
/// <param name="BeganAt">First sample of the condition.</param>
/// <param name="RaisedAt">When the on-delay was met.</param>
/// <param name="ClearedAt">When it ended, or was withdrawn; null while it lasts.</param>
/// <param name="Standing">Where it stands.</param>
/// <param name="Told">The standing that was last told; null while nothing was.</param>
/// <param name="ToldAt">When that was told.</param>
/// <param name="ToldAtListened">The set's time listened then: repeats are counted on it, so that a jump of the clock brings none.</param>
/// <param name="StateNumber">Number of the last notice about it, from 1; 0 while there is none.</param>
/// <param name="Repeats">Repeats since it was told as raised.</param>
/// <param name="AcknowledgedAt">When somebody acknowledged it; ends the repeats.</param>
/// <param name="Thread">Key under which a device shows it: a newer notice of a thread replaces the older.</param>
/// <param name="Because">The evidence as it was when last told.</param>
public sealed record TrackedAlert(
    string Key,
    string Rule,
    string Subject,
    Severity Severity,
    EventTime BeganAt,
    EventTime RaisedAt,
    EventTime? ClearedAt,
    AlertStanding Standing,
    AlertStanding? Told,
    ReceivedAt? ToldAt,
    TimeSpan ToldAtListened,
    int StateNumber,
    int Repeats,
    ReceivedAt? AcknowledgedAt,
    string Thread,
    Reason Because)
{
    /// <summary>While somebody wished not to hear of it; null without such a wish.</summary>
    public AlertSnooze? Snooze { get; init; }

    /// <summary>What keeps it silent now, see <see cref="Inhibitions.InhibitionCatalog"/>; null when nothing does.</summary>
    public Reason? Held { get; init; }

    /// <summary>Key of the alert whose notice told of it as well; null when it was not told in that way.</summary>
    public string? ToldIn { get; init; }

    /// <summary>When somebody said that it is wrong; kept for the precision of its rule.</summary>
    public ReceivedAt? DisputedAt { get; init; }

    /// <summary>The severity that was last told; null while nothing was, or when an earlier version told it. A higher one is told at once.</summary>
    public Severity? ToldSeverity { get; init; }

    /// <summary>When it was first told as urgent, for as long as it is; null otherwise.</summary>
    public ReceivedAt? UrgentToldAt { get; init; }
}
