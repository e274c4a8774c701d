using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Pipeline;

/// <summary>Where a notice goes when its channel fails: to a channel that was not told of the same yet.</summary>
internal static class SecondWay
{
    /// <summary>Failed attempts after which another channel is asked.</summary>
    public const int Failures = 3;

    // Marks a row that came this way: it is not passed on again.
    private const char Mark = '>';

    /// <summary>Time after which another channel is asked, whatever the number of attempts.</summary>
    public static readonly TimeSpan After = TimeSpan.FromMinutes(15);

    /// <summary>The row for another channel, or null: too early, no other channel, or all were told.</summary>
    /// <param name="row">The row whose attempt failed.</param>
    /// <param name="isGivenUp">Whether it is tried no more.</param>
    /// <param name="now">The present.</param>
    /// <param name="house">Channels of the house.</param>
    /// <param name="listeners">People's channels.</param>
    /// <param name="newest">The newest rows of the outbox.</param>
    public static OutboxEntry? Find(
        OutboxRow row,
        bool isGivenUp,
        ReceivedAt now,
        IEnumerable<string> house,
        IReadOnlyList<PersonalChannel> listeners,
        IReadOnlyList<OutboxRow> newest)
    {
        var draft = AlertJson.ReadDraft(row.Body);
        if (draft.Silent || row.Key.Contains(Mark, StringComparison.Ordinal) || !(isGivenUp || row.Attempts >= Failures || now - row.CreatedAt >= After))
        {
            return null;
        }

        // The house's channels are everybody's; another person's is asked only when it cannot wait.
        var person = row.Channel.StartsWith("person-", StringComparison.Ordinal) ? row.Channel[..(row.Channel.LastIndexOf('-') + 1)] : null;
        var others = house.Concat(listeners.Select(listener => listener.Name)
            .Where(name => draft.Severity is Severity.Urgent || (person is not null && name.StartsWith(person, StringComparison.Ordinal))));
        var told = newest.Where(other => other.State is OutboxState.Sent or OutboxState.Waiting && other.Channel != row.Channel && IsSame(other, row, draft))
            .Select(other => other.Channel)
            .ToHashSet(StringComparer.Ordinal);
        return others.FirstOrDefault(name => name != row.Channel && !told.Contains(name)) is { } channel && !newest.Any(other => other.Key.StartsWith(row.Key + Mark, StringComparison.Ordinal))
            ? new OutboxEntry(row.Key + Mark + channel, channel, AlertJson.Write(Passed(draft, channel, now)), now)
            : null;
    }

    private static OutboxDraft Passed(OutboxDraft draft, string channel, ReceivedAt now) =>
        draft with { Channel = channel, NextAttemptAt = now, Body = ValueList.Of(draft.Body.Append(Reason.Of("by-other-way"))) };

    private static bool IsSame(OutboxRow other, OutboxRow row, OutboxDraft draft)
    {
        if (other.Key[..(other.Key.LastIndexOf('@') + 1)] == row.Key[..(row.Key.LastIndexOf('@') + 1)])
        {
            return true;
        }

        var told = AlertJson.ReadDraft(other.Body);
        return draft.Alerts.Count > 0 && told.Kind == draft.Kind && draft.Alerts.All(told.Alerts.Contains) && (other.CreatedAt - row.CreatedAt).Duration() < TimeSpan.FromHours(1);
    }
}
