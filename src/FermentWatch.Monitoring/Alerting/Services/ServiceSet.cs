using System.Text.Json;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Services;

/// <summary>Alerts about the service itself and what was said of them: a fact on disk.</summary>
public sealed record ServiceSet
{
    /// <summary>Version of the stored form.</summary>
    public const int CurrentVersion = 1;

    /// <summary>Nothing raised, nothing said.</summary>
    public static ServiceSet Empty { get; } = new();

    /// <summary>Version of the stored form.</summary>
    public int Version { get; init; } = CurrentVersion;

    /// <summary>Where each rule stands about each subject.</summary>
    public ValueList<ServiceTimer> Timers { get; init; } = ValueList.Of<ServiceTimer>();

    /// <summary>Alerts that stand, and those whose end was told last.</summary>
    public ValueList<TrackedAlert> Alerts { get; init; } = ValueList.Of<TrackedAlert>();

    /// <summary>Time that the service ran in all: the time line of these rules.</summary>
    public TimeSpan Ran { get; init; }

    /// <summary>Number of the next alert.</summary>
    public int NextNumber { get; init; } = 1;

    /// <summary>Does what somebody said about a standing alert; nothing where it is over.</summary>
    /// <param name="act">What was said; a snooze until the next event of a batch is none of these alerts' and does nothing.</param>
    /// <param name="key">Key of the alert, or thread under which it was shown.</param>
    /// <param name="at">When.</param>
    /// <param name="zone">The reader's zone, for a snooze until the morning; null for UTC.</param>
    public ServiceSet Act(AlertAct act, string key, ReceivedAt at, TimeZoneInfo? zone = null) =>
        act is AlertAct.SnoozeEvent ? this : this with { Alerts = (AlertSet.Empty with { Alerts = Alerts }).Act(act, key, at, zone).Alerts };

    /// <summary>The set with what people said according to another copy of it.</summary>
    public ServiceSet WithActsOf(ServiceSet other) =>
        this with { Alerts = (AlertSet.Empty with { Alerts = Alerts }).WithActsOf(AlertSet.Empty with { Alerts = other.Alerts }).Alerts };

    /// <summary>The stored form.</summary>
    public static string Write(ServiceSet set) => JsonSerializer.Serialize(set);

    /// <summary>Reads the stored form.</summary>
    /// <exception cref="FormatException">Not a set, or of a newer version than this program knows.</exception>
    public static ServiceSet Read(string json)
    {
        try
        {
            return JsonSerializer.Deserialize<ServiceSet>(json) is { Version: <= CurrentVersion } set
                ? set
                : throw new FormatException($"The stored alerts of the service are of a newer version than {CurrentVersion}, which this program knows.");
        }
        catch (JsonException exception)
        {
            throw new FormatException($"The stored alerts of the service cannot be read: {exception.Message}", exception);
        }
    }
}

/// <summary>Where a rule stands about a subject.</summary>
/// <param name="Rule">Id of the rule.</param>
/// <param name="Subject">What it is about.</param>
/// <param name="State">Its state, on the time that the service ran.</param>
/// <param name="BeganAt">When the condition began to hold, by the wall clock; null while it does not.</param>
public sealed record ServiceTimer(string Rule, string Subject, AlertState State, ReceivedAt? BeganAt);

/// <summary>The outcome of a pass over the service.</summary>
/// <param name="Now">The set after the pass.</param>
/// <param name="Drafts">Notices to queue.</param>
/// <param name="Canceled">Keys of notices that must not go out any more if they still wait.</param>
/// <param name="MustStore">False when only running timers moved.</param>
public sealed record ServiceStep(ServiceSet Now, ValueList<OutboxDraft> Drafts, ValueList<string> Canceled, bool MustStore);
