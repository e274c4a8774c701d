using System.Collections.Concurrent;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Words;
using FermentWatch.Service.Texts;

namespace FermentWatch.Service.InOut;

/// <summary>What became of a test notice.</summary>
/// <param name="At">When it was sent.</param>
/// <param name="Result">The channel's answer.</param>
public sealed record ChannelTest(DateTimeOffset At, DeliveryResult Result);

/// <summary>Sends test notices and remembers the last answer of each channel until the service stops.</summary>
public sealed class ChannelTests(IEnumerable<INotifier> notifiers, TimeProvider clock)
{
    private readonly ConcurrentDictionary<string, ChannelTest> _last = new(StringComparer.Ordinal);

    /// <summary>The channels that are set up.</summary>
    public IReadOnlyList<INotifier> Channels { get; } = [.. notifiers];

    /// <summary>The last test of a channel in this run, or null.</summary>
    public ChannelTest? LastOf(string channel) => _last.GetValueOrDefault(channel);

    /// <summary>Sends a test; false when there is no such channel.</summary>
    /// <exception cref="OperationCanceledException">The caller gave up.</exception>
    public async Task<bool> SendAsync(string channel, CancellationToken cancellationToken)
    {
        if (Channels.FirstOrDefault(one => one.Channel == channel) is not { } notifier)
        {
            return false;
        }

        await SendAsync(notifier, cancellationToken);
        return true;
    }

    /// <summary>Sends a test through a channel and remembers what became of it.</summary>
    /// <exception cref="OperationCanceledException">The caller gave up.</exception>
    public async Task SendAsync(INotifier notifier, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(notifier);
        var now = clock.GetUtcNow();
        string Text(string code) => NoticeText.Of(Reason.Of(code), new Reader(TimeZoneInfo.Utc), ReceivedAt.From(now));
        var message = new NoticeMessage("channel-test-" + notifier.Channel, Text("channel-test"), Text("channel-test-body"), Severity.Action, Silent: false, Link: null);
        _last[notifier.Channel] = new ChannelTest(now, await notifier.DeliverAsync(message, cancellationToken));
    }
}
