using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Services;

/// <summary><c>broker-lost</c>: no message can reach us. Silence of the sensors is not told meanwhile.</summary>
public static class BrokerLostRule
{
    /// <summary>Id of the rule.</summary>
    public const string Id = "broker-lost";

    /// <summary>The catalogue's entry.</summary>
    public static ServiceRule Rule { get; } = new(
        Id,
        new RepeatSettings(TimeSpan.FromHours(6), 4),
        Find,
        because => Reason.Of("title-broker-lost"),
        because => ValueList.Of(Reason.Of("broker-lost-unknown"), Reason.Of("broker-lost-look"), Reason.Of("ventilate-before-entering")));

    private static IEnumerable<ServiceFinding> Find(ServiceFacts facts, ServiceLimits limits, ReceivedAt now)
    {
        var because = facts.IsBrokerUp ? Reason.Of("broker-back", Moment(now))
            : facts.LastMessageAt is { } last ? Reason.Of("broker-gone", Moment(last))
            : Reason.Of("broker-never-there");
        yield return new ServiceFinding(
            "broker",
            facts.IsBrokerUp ? Condition.Clear : Condition.Holds,
            Severity.Warning,
            because,
            new AlertTiming(new Hold(limits.BrokerOnDelay, 0), new Hold(limits.BrokerOffDelay, 0), TimeSpan.MaxValue))
        {
            HeldAtNight = limits.BrokerHeldAtNight,
        };
    }

    private static ReasonValue.Moment Moment(ReceivedAt at) => new(new EventTime(at.UnixMicroseconds));
}
