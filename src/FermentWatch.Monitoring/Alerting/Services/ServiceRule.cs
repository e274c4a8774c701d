using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Services;

/// <summary>One kind of alert about the service itself: an entry of <see cref="ServiceRuleCatalog"/>.</summary>
/// <param name="Id">Lower-case words joined by hyphens.</param>
/// <param name="Repeat">Its repeats.</param>
/// <param name="Find">What the facts say about each subject. A subject that is not named is over.</param>
/// <param name="Title">Words of the title, from the evidence.</param>
/// <param name="Advice">What to do, after the evidence.</param>
public sealed record ServiceRule(
    string Id,
    RepeatSettings Repeat,
    Func<ServiceFacts, ServiceLimits, ReceivedAt, IEnumerable<ServiceFinding>> Find,
    Func<Reason, Reason> Title,
    Func<Reason, ValueList<Reason>> Advice);

/// <summary>What the facts say about one subject of a rule.</summary>
/// <param name="Subject">What it is about.</param>
/// <param name="Condition">What they say.</param>
/// <param name="Severity">How much it asks.</param>
/// <param name="Because">The evidence.</param>
/// <param name="Timing">Delays.</param>
public sealed record ServiceFinding(string Subject, Condition Condition, Severity Severity, Reason Because, AlertTiming Timing)
{
    /// <summary>How long it stands untold in quiet hours; null for the whole night.</summary>
    public TimeSpan? HeldAtNight { get; init; }

    /// <summary>Channel through which it can't be told; null for none.</summary>
    public string? NotThrough { get; init; }
}

/// <summary>Every rule about the service itself. A new one is a file, a line here, its texts, samples and stories.</summary>
public static class ServiceRuleCatalog
{
    /// <summary>The rules in the order in which they are shown.</summary>
    public static ValueList<ServiceRule> All { get; } = ValueList.Of<ServiceRule>(BrokerLostRule.Rule, StorageRule.Rule, ChannelFailingRule.Rule);

    /// <summary>The rule of that id, or null.</summary>
    public static ServiceRule? Find(string id) => All.FirstOrDefault(rule => rule.Id == id);
}
