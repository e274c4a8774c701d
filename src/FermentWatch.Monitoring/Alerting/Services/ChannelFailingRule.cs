using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Alerting.Services;

/// <summary><c>channel-failing</c>: notices do not get through a channel. Told through the others; one success ends it. The subject is the channel.</summary>
public static class ChannelFailingRule
{
    /// <summary>Id of the rule.</summary>
    public const string Id = "channel-failing";

    /// <summary>The catalogue's entry.</summary>
    public static ServiceRule Rule { get; } = new(
        Id,
        new RepeatSettings(TimeSpan.FromHours(12), 3),
        Find,
        because => Reason.Of("title-channel-failing", because.Values[0]),
        because => ValueList.Of(Reason.Of("channel-failing-look")));

    private static IEnumerable<ServiceFinding> Find(ServiceFacts facts, ServiceLimits limits, ReceivedAt now)
    {
        foreach (var channel in facts.Channels)
        {
            var isFailing = channel.FailingSince is { } since && (channel.Failures >= limits.ChannelFailures || now - since >= limits.ChannelFailingFor);
            yield return new ServiceFinding(
                channel.Channel,
                isFailing ? Condition.Holds : channel.FailingSince is null ? Condition.Clear : Condition.Between,
                Severity.Warning,
                channel.FailingSince is { } from
                    ? Reason.Of("channel-fails", new ReasonValue.Name(channel.Channel), new ReasonValue.Count(channel.Failures), new ReasonValue.Moment(new EventTime(from.UnixMicroseconds)))
                    : Reason.Of("channel-works", new ReasonValue.Name(channel.Channel)),
                new AlertTiming(Hold.None, Hold.None, TimeSpan.MaxValue))
            {
                NotThrough = channel.Channel,
            };
        }
    }
}
