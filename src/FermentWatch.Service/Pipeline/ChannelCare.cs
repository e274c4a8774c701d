using System.Globalization;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Help;
using FermentWatch.Service.Dashboard.InOut;
using FermentWatch.Service.Personal;

namespace FermentWatch.Service.Pipeline;

/// <summary>How a channel fared.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Shown">Its name for people.</param>
/// <param name="TakenAt">When it last took a notice; null for never.</param>
/// <param name="TestedAt">When its last monthly test was queued; null for never.</param>
/// <param name="ConfirmedAt">When somebody last confirmed that a test arrived; null for never.</param>
public sealed record ChannelRecord(string Name, string Shown, ReceivedAt? TakenAt, ReceivedAt? TestedAt, ReceivedAt? ConfirmedAt)
{
    /// <summary>Whether the last test was confirmed.</summary>
    public bool IsConfirmed => ConfirmedAt >= TestedAt;
}

/// <summary>Whether notices really arrive: a test a month for each channel, to be confirmed by whoever gets it.</summary>
public sealed class ChannelCare(Store store, IEnumerable<INotifier> notifiers, WishBook wishes, TimeProvider clock)
{
    private const string Tested = "channel-tested-";
    private const string Confirmed = "channel-confirmed-";

    /// <summary>Time between two tests. Common practice, no source.</summary>
    public static readonly TimeSpan Interval = TimeSpan.FromDays(30);

    /// <summary>Every channel that is set up.</summary>
    public IReadOnlyList<ChannelRecord> All()
    {
        var (taken, kept) = (store.ReadLastTaken(), store.ReadProperties("channel-"));
        var people = store.ReadPeople();
        ReceivedAt? At(string name) => kept.TryGetValue(name, out var text) ? new ReceivedAt(long.Parse(text, CultureInfo.InvariantCulture)) : null;
        return
        [
            .. from name in notifiers.Select(notifier => notifier.Channel).Concat(wishes.Listeners().Select(listener => listener.Name))
               let owner = people.FirstOrDefault(person => name.StartsWith(WishBook.PrefixOf(person.Id), StringComparison.Ordinal))
               let shown = owner is not null ? HelpText.Of("channel-of", owner.Name) : InOutText.Knows("channel-" + name) ? InOutText.Of("channel-" + name) : name
               select new ChannelRecord(name, shown, taken.TryGetValue(name, out var at) ? at : null, At(Tested + name), At(Confirmed + name)),
        ];
    }

    /// <summary>Queues the tests that are due; a channel that is new begins its month now.</summary>
    /// <exception cref="StorageUnavailableException">Not all were queued.</exception>
    public async Task TestAsync(CancellationToken cancellationToken)
    {
        var now = ReceivedAt.From(clock.GetUtcNow());
        foreach (var channel in All())
        {
            if (channel.TestedAt is { } tested && now - tested < Interval && tested <= now)
            {
                continue;
            }

            if (channel.TestedAt is not null && store.ReadBatches() is [{ } batch, ..])
            {
                var key = string.Create(CultureInfo.InvariantCulture, $"monthly/{now.ToDateTimeOffset():yyyy-MM-dd}@{channel.Name}");
                var draft = new OutboxDraft(
                    key, channel.Name, "monthly-test", batch.Id, Severity.Action, Silent: false, Reason.Of("title-monthly-test"),
                    ValueList.Of(Reason.Of("monthly-test"), Reason.Of("monthly-test-confirm")), now);
                await store.QueueAsync(new OutboxEntry(key, channel.Name, AlertJson.Write(draft), now), null, now, cancellationToken);
            }

            await KeepAsync(Tested + channel.Name, now, cancellationToken);
        }
    }

    /// <summary>Notes that somebody got a test; false when there is no such channel.</summary>
    /// <exception cref="StorageUnavailableException">It was not noted.</exception>
    public async Task<bool> ConfirmAsync(string channel, CancellationToken cancellationToken)
    {
        if (All().All(one => one.Name != channel))
        {
            return false;
        }

        await KeepAsync(Confirmed + channel, ReceivedAt.From(clock.GetUtcNow()), cancellationToken);
        return true;
    }

    private Task KeepAsync(string name, ReceivedAt at, CancellationToken cancellationToken) => store.WritePropertiesAsync(
        new Dictionary<string, string?> { [name] = at.UnixMicroseconds.ToString(CultureInfo.InvariantCulture) }, cancellationToken);
}
