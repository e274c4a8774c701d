using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>What was planned for whom: a fact on disk, written with the notices themselves, so that a restart neither repeats nor forgets any.</summary>
public sealed record NoticeLedger
{
    /// <summary>Version of the stored form.</summary>
    public const int CurrentVersion = 1;

    /// <summary>Nothing planned yet.</summary>
    public static NoticeLedger Empty { get; } = new();

    /// <summary>Version of the stored form.</summary>
    public int Version { get; init; } = CurrentVersion;

    /// <summary>One for each channel that is or was listened to, in the order in which they came.</summary>
    public ValueList<ListenerLedger> Listeners { get; init; } = ValueList.Of<ListenerLedger>();

    /// <summary>The last pass that trusted the clock; null before the first. On disk it may be a few minutes older.</summary>
    public ReceivedAt? SeenAt { get; init; }

    /// <summary>A stretch in which this program did not run and of which was not told yet; null for none.</summary>
    public Absence? Absence { get; init; }

    /// <summary>The ledger of a channel; an empty one when it is new.</summary>
    public ListenerLedger Of(string channel) => Listeners.FirstOrDefault(one => one.Channel == channel) ?? new ListenerLedger(channel);
}

/// <summary>What was planned for one listener.</summary>
/// <param name="Channel">Name of the channel.</param>
public sealed record ListenerLedger(string Channel)
{
    /// <summary>Notices of the last days and those that still wait, oldest first.</summary>
    public ValueList<PlannedNotice> Notices { get; init; } = ValueList.Of<PlannedNotice>();

    /// <summary>Alerts that this listener was told of and that still stand: kept for as long as they do.</summary>
    public ValueList<ShownAlert> Shown { get; init; } = ValueList.Of<ShownAlert>();

    /// <summary>What waits for the daily digest.</summary>
    public ValueList<NoticeLine> Digest { get; init; } = ValueList.Of<NoticeLine>();

    /// <summary>The day, by the wall clock, whose digest was dealt with; null before the first.</summary>
    public DateOnly? DigestDay { get; init; }

    /// <summary>Alerts that were over before this listener was told of them: counted, never told.</summary>
    public int Fleeting { get; init; }
}

/// <summary>In which manner a notice tells.</summary>
public enum NoticeManner
{
    /// <summary>Of one alert, or of several of one rule with one cause.</summary>
    One = 1,

    /// <summary>Of several alerts of one batch.</summary>
    Group = 2,

    /// <summary>Of more alerts than anybody reads one by one.</summary>
    Flood = 3,

    /// <summary>The daily digest.</summary>
    Digest = 4,

    /// <summary>What happened while this program did not run.</summary>
    Away = 5,
}

/// <summary>A notice as it was planned.</summary>
/// <param name="Key">Key of its row in the outbox.</param>
/// <param name="Manner">In which manner it tells.</param>
/// <param name="Thread">Key under which a device shows it.</param>
/// <param name="PlannedAt">When it was planned first.</param>
/// <param name="Due">When it leaves; from then on it counts as told.</param>
/// <param name="Lines">What it tells; at least one.</param>
public sealed record PlannedNotice(string Key, NoticeManner Manner, string Thread, ReceivedAt PlannedAt, ReceivedAt Due, ValueList<NoticeLine> Lines)
{
    /// <summary>How often its lines were changed while it waited.</summary>
    public int Revision { get; init; }

    /// <summary>Whether it left, as far as the planning knows: a wall clock that goes back does not undo it.</summary>
    public bool IsTold { get; init; }

    /// <summary>Whether it counts against the limits: what makes no sound and what is urgent does not, nor does the digest.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public bool Counts => Manner is not NoticeManner.Digest && Lines.All(line => line.IsAloud && line.Severity is not Severity.Urgent);
}

/// <summary>What one notice tells of one alert, or of several that share a thread.</summary>
/// <param name="Alerts">Keys of the alerts; at least one.</param>
/// <param name="Batch">Their batch; the first of them when they are of several.</param>
/// <param name="Rule">Id of the rule.</param>
/// <param name="Kind">What changed.</param>
/// <param name="Severity">How much it asks.</param>
/// <param name="StateNumber">Number of this notice about the first alert.</param>
/// <param name="Thread">Thread of the alerts.</param>
/// <param name="At">When it was decided.</param>
/// <param name="Title">Words of the title.</param>
/// <param name="Body">Sentences; empty once it was told.</param>
public sealed record NoticeLine(
    ValueList<string> Alerts,
    BatchId Batch,
    string Rule,
    TransitionKind Kind,
    Severity Severity,
    int StateNumber,
    string Thread,
    ReceivedAt At,
    Reason Title,
    ValueList<Reason> Body)
{
    /// <summary>Whether it makes a sound.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public bool IsAloud => Kind is TransitionKind.Raised or TransitionKind.Repeated or TransitionKind.Withdrawn;

    /// <summary>Whether it must be told by itself and today: what is urgent, and what takes an earlier 'go on' back.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public bool CannotWait => Severity is Severity.Urgent || Kind is TransitionKind.Withdrawn || Rule == Rules.FinishRules.WithdrawnId;
}

/// <summary>An alert as a listener's device shows it.</summary>
/// <param name="Alert">Key of the alert.</param>
/// <param name="Thread">Under which key it is shown.</param>
public sealed record ShownAlert(string Alert, string Thread);

/// <summary>A stretch in which this program did not run.</summary>
/// <param name="From">When it last ran.</param>
/// <param name="Until">When it ran again.</param>
/// <param name="Past">Alerts that were found to have come and gone meanwhile.</param>
public sealed record Absence(ReceivedAt From, ReceivedAt Until, int Past);
