using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting;

/// <summary>The alerts of one batch and what was said about them: a fact on disk, never a rebuilt cache.</summary>
public sealed record AlertSet
{
    /// <summary>Version of the stored form.</summary>
    public const int CurrentVersion = 1;

    /// <summary>Nothing raised, nothing said.</summary>
    public static AlertSet Empty { get; } = new();

    /// <summary>Version of the stored form.</summary>
    public int Version { get; init; } = CurrentVersion;

    /// <summary>Alerts in the order in which they were found.</summary>
    public ValueList<TrackedAlert> Alerts { get; init; } = ValueList.Of<TrackedAlert>();

    /// <summary>How long each attached sensor has not been heard.</summary>
    public ValueList<SensorListening> Listening { get; init; } = ValueList.Of<SensorListening>();

    /// <summary>What the rules about the end of the ferment saw.</summary>
    public ValueList<RuleMemory> Memories { get; init; } = ValueList.Of<RuleMemory>();

    /// <summary>What a rule remembers.</summary>
    public RuleMemory Memory(string rule) => Memories.FirstOrDefault(memory => memory.Rule == rule) ?? RuleMemory.Empty(rule);

    /// <summary>Keeps what a rule remembers now.</summary>
    public AlertSet Remember(RuleMemory memory) => this with
    {
        Memories = ValueList.Of(Memories.Where(one => one.Rule != memory.Rule).Append(memory)),
    };

    /// <summary>Time listened in all: the time line of the rules that live on ticks.</summary>
    public TimeSpan Listened { get; init; }

    /// <summary><see cref="Listened"/> when the set was last to be stored.</summary>
    public TimeSpan StoredAtListened { get; init; }

    /// <summary>Episodes that ended before this were dealt with and are no longer listed.</summary>
    public EventTime? KnownUntil { get; init; }

    /// <summary>Number of the next alert.</summary>
    public int NextNumber { get; init; } = 1;

    /// <summary>Notes that somebody saw an alert, which ends its repeats. An unknown or ended alert changes nothing.</summary>
    /// <param name="key">Key of the alert, or thread under which it was shown.</param>
    /// <param name="at">When.</param>
    public AlertSet Acknowledge(string key, ReceivedAt at) =>
        AlertActs.Change(this, key, alert => alert with { AcknowledgedAt = alert.AcknowledgedAt ?? at, Snooze = null });
}

/// <summary>How long a sensor has not been heard, over the time that we listened.</summary>
/// <param name="Sensor">The sensor.</param>
/// <param name="State">Its state in the machine of the rule <c>sensor-silent</c>.</param>
/// <param name="Series">Each of its series that is watched.</param>
public sealed record SensorListening(SensorId Sensor, AlertState State, ValueList<SeriesListening> Series);

/// <summary>How long a series has not been heard.</summary>
/// <param name="Quantity">The series.</param>
/// <param name="LastReceivedAt">Its newest arrival, as known at the last pass.</param>
/// <param name="LastAt">Event time of its newest reading, as known at the last pass.</param>
/// <param name="Silent">Time listened since the last arrival.</param>
/// <param name="HeardSince">Arrivals seen since it was last found silent, counted up to the number that clears it.</param>
public sealed record SeriesListening(QuantityKind Quantity, ReceivedAt? LastReceivedAt, EventTime? LastAt, TimeSpan Silent, int HeardSince)
{
    /// <summary>Silences of the last days that were long, the newest last: what its habit is read from.</summary>
    public ValueList<Pause> Pauses { get; init; } = ValueList.Of<Pause>();
}

/// <summary>A silence that is over.</summary>
/// <param name="EndedAt">The set's time listened when it ended.</param>
/// <param name="Length">How long it was, over the time that we listened.</param>
public sealed record Pause(TimeSpan EndedAt, TimeSpan Length);
