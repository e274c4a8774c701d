using System.Collections.Concurrent;
using System.Globalization;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Infrastructure.Storage;
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
public sealed class ChannelTests(IEnumerable<INotifier> notifiers, Store store, TimeProvider clock)
{
    private const string Confirmed = "channel-confirmed-";

    private readonly ConcurrentDictionary<string, ChannelTest> _last = new(StringComparer.Ordinal);

    /// <summary>The channels that are set up.</summary>
    public IReadOnlyList<INotifier> Channels { get; } = [.. notifiers];

    /// <summary>The last test of a channel in this run, or null.</summary>
    public ChannelTest? LastOf(string channel) => _last.GetValueOrDefault(channel);

    /// <summary>When somebody last confirmed that a test arrived; null while nobody did.</summary>
    public DateTimeOffset? ConfirmedAt(string channel) =>
        store.ReadProperties(Confirmed + channel).TryGetValue(Confirmed + channel, out var text) && DateTimeOffset.TryParse(text, CultureInfo.InvariantCulture, out var at) ? at : null;

    /// <summary>Notes that the last test of a channel arrived; false when none was delivered in this run.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was noted.</exception>
    public async Task<bool> ConfirmAsync(string channel, CancellationToken cancellationToken)
    {
        if (LastOf(channel)?.Result is not DeliveryResult.Delivered)
        {
            return false;
        }

        await store.WritePropertiesAsync(new Dictionary<string, string?> { [Confirmed + channel] = clock.GetUtcNow().ToString("O", CultureInfo.InvariantCulture) }, cancellationToken);
        return true;
    }

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
