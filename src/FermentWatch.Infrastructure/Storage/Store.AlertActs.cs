using System.Globalization;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Alerting.Services;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using Microsoft.Data.Sqlite;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>What became of an act.</summary>
public enum ActOutcome
{
    /// <summary>It is on disk.</summary>
    Done = 1,

    /// <summary>No such alert stands any more: nothing was changed.</summary>
    NotStanding = 2,

    /// <summary>It was said already.</summary>
    SaidBefore = 3,

    /// <summary>The link by which it came was used already: nothing was changed.</summary>
    LinkUsed = 4,
}

/// <summary>An alert of a thread, with its batch.</summary>
/// <param name="Batch">The batch.</param>
/// <param name="Alert">The alert as it is on disk.</param>
public sealed record ThreadAlert(BatchId Batch, TrackedAlert Alert);

/// <summary>What people say about alerts: facts, so that a pass which did not know of them is not kept.</summary>
public sealed partial class Store
{
    /// <summary>Notes what somebody says about an alert, in its batch's stored set, and raises the batch's revision.</summary>
    /// <param name="batch">The batch.</param>
    /// <param name="alert">Key of the alert.</param>
    /// <param name="act">What was said.</param>
    /// <param name="at">When, on our clock.</param>
    /// <param name="cancellationToken">Counts while the act waits for room.</param>
    /// <param name="zone">The reader's zone, for a snooze until the morning; null for UTC.</param>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    /// <exception cref="FormatException">The stored set is of a newer program.</exception>
    public Task<ActOutcome> ActAsync(BatchId batch, string alert, AlertAct act, ReceivedAt at, CancellationToken cancellationToken, TimeZoneInfo? zone = null)
    {
        ArgumentException.ThrowIfNullOrEmpty(alert);
        return WriteAsync(connection => AlertActWriter.Act(connection, batch, alert, act, at, zone), cancellationToken);
    }

    /// <summary>The alerts that share a thread, of all batches; empty when there are none.</summary>
    /// <exception cref="FormatException">A stored set is of a newer program.</exception>
    public IReadOnlyList<ThreadAlert> ReadThread(string thread)
    {
        ArgumentException.ThrowIfNullOrEmpty(thread);
        return _reads.Read<IReadOnlyList<ThreadAlert>>(read => AlertActWriter.OfThread(read.Statement(AlertActWriter.Bodies).List(AlertActWriter.Body), thread));
    }

    /// <summary>Whether a link was used.</summary>
    /// <param name="link">Its id.</param>
    public bool IsLinkUsed(string link) => ReadProperties(AlertActWriter.Used(link)).Count > 0;

    /// <summary>Notes what somebody says by a link about all standing alerts of a thread, and that the link was used: both or neither.</summary>
    /// <param name="thread">The thread.</param>
    /// <param name="act">What was said.</param>
    /// <param name="link">Id of the link: good for one time.</param>
    /// <param name="linkEnds">When the link stops working by itself: until then its use is remembered.</param>
    /// <param name="at">When, on our clock.</param>
    /// <param name="cancellationToken">Counts while the act waits for room.</param>
    /// <returns>What became of it, and the batches whose sets changed.</returns>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    /// <exception cref="FormatException">A stored set is of a newer program.</exception>
    public Task<(ActOutcome Outcome, IReadOnlyList<BatchId> Batches)> ActByLinkAsync(
        string thread, AlertAct act, string link, DateTimeOffset linkEnds, ReceivedAt at, CancellationToken cancellationToken)
    {
        ArgumentException.ThrowIfNullOrEmpty(thread);
        ArgumentException.ThrowIfNullOrEmpty(link);
        return WriteAsync(connection => AlertActWriter.ActByLink(connection, thread, act, link, linkEnds, at), cancellationToken);
    }
}

/// <summary>Writes an act into the set as it is on disk.</summary>
internal static class AlertActWriter
{
    /// <summary>The stored sets by batch.</summary>
    public const string Bodies = "SELECT batch, body FROM alert ORDER BY batch";

    private const string UsedLinks = "used-link-";

    /// <summary>A row of <see cref="Bodies"/>.</summary>
    public static (string Batch, string Body) Body(SqliteDataReader row) => (row.GetString(0), row.GetString(1));

    /// <summary>Under which name the use of a link is remembered.</summary>
    public static string Used(string link) => UsedLinks + link;

    public static IReadOnlyList<ThreadAlert> OfThread(IEnumerable<(string Batch, string Body)> sets, string thread) =>
    [
        .. from set in sets
           from alert in AlertJson.ReadSet(set.Body).Alerts
           where alert.Thread == thread
           select new ThreadAlert(new BatchId(set.Batch), alert),
    ];

    public static (ActOutcome Outcome, IReadOnlyList<BatchId> Batches) ActByLink(
        WriteConnection connection, string thread, AlertAct act, string link, DateTimeOffset linkEnds, ReceivedAt at)
    {
        if (connection.Statement("SELECT value FROM property WHERE name = ?1").Text(Used(link)) is not null)
        {
            return (ActOutcome.LinkUsed, []);
        }

        var outcomes = OfThread(connection.Statement(Bodies).List(Body), thread)
            .Select(one => (one.Batch, Outcome: Act(connection, one.Batch, one.Alert.Key, act, at, null)))
            .ToList();
        // What is over may be looked at again: only what was said uses the link up.
        if (outcomes.All(one => one.Outcome is ActOutcome.NotStanding))
        {
            return (ActOutcome.NotStanding, []);
        }

        // ISO 8601 in UTC sorts as time does.
        connection.Statement("DELETE FROM property WHERE substr(name, 1, length(?1)) = ?1 AND value < ?2").Run(UsedLinks, Iso(at.ToDateTimeOffset()));
        connection.Statement("INSERT INTO property (name, value) VALUES (?1, ?2)").Run(Used(link), Iso(linkEnds));
        var changed = outcomes.Where(one => one.Outcome is ActOutcome.Done).Select(one => one.Batch).Distinct().ToList();
        return (changed.Count > 0 ? ActOutcome.Done : ActOutcome.SaidBefore, changed);
    }

    private static string Iso(DateTimeOffset time) => time.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    public static ActOutcome Act(WriteConnection connection, BatchId batch, string alert, AlertAct act, ReceivedAt at, TimeZoneInfo? zone)
    {
        if (connection.Statement("SELECT body FROM alert WHERE batch = ?1").Text(batch.Value) is not { } body)
        {
            return ActOutcome.NotStanding;
        }

        if (batch.Value == PassWriter.ServiceKey)
        {
            return ActOnService(connection, body, alert, act, at, zone);
        }

        var set = AlertJson.ReadSet(body);
        if (!set.Alerts.Any(one => one.Key == alert && one.Standing is AlertStanding.Raised))
        {
            return ActOutcome.NotStanding;
        }

        var changed = set.Act(act, alert, at, zone);
        if (changed.Alerts.Equals(set.Alerts))
        {
            return ActOutcome.SaidBefore;
        }

        connection.Statement("UPDATE alert SET body = ?2, saved_at = ?3 WHERE batch = ?1")
            .Run(batch.Value, AlertJson.Write(changed), at.UnixMicroseconds);
        connection.Memory.Changes.Alerts(batch.Value);
        BatchRows.Revise(connection, batch.Value);
        Cancel(connection, changed, at);
        return ActOutcome.Done;
    }

    /// <summary>An alert about the service itself lies in a set of another form, of no batch that could be revised.</summary>
    private static ActOutcome ActOnService(WriteConnection connection, string body, string alert, AlertAct act, ReceivedAt at, TimeZoneInfo? zone)
    {
        var set = ServiceSet.Read(body);
        if (!set.Alerts.Any(one => one.Key == alert && one.Standing is AlertStanding.Raised))
        {
            return ActOutcome.NotStanding;
        }

        var changed = set.Act(act, alert, at, zone);
        if (changed.Alerts.Equals(set.Alerts))
        {
            return ActOutcome.SaidBefore;
        }

        connection.Statement("UPDATE alert SET body = ?2, saved_at = ?3 WHERE batch = ?1").Run(PassWriter.ServiceKey, ServiceSet.Write(changed), at.UnixMicroseconds);
        connection.Memory.Changes.Alerts(PassWriter.ServiceKey);
        return ActOutcome.Done;
    }

    /// <summary>
    /// Takes reminders out of the outbox that tell of nothing but what is dealt with, those that are tried again included. One that tells of
    /// more is written anew by the next pass.
    /// </summary>
    private static void Cancel(WriteConnection connection, AlertSet set, ReceivedAt at)
    {
        var dealtWith = set.Alerts.Where(alert => alert.IsDealtWith()).Select(alert => alert.Key).ToHashSet(StringComparer.Ordinal);
        foreach (var (key, body) in connection.Statement("SELECT key, body FROM outbox WHERE state = 1").List(row => (row.GetString(0), row.GetString(1))))
        {
            var draft = AlertJson.ReadDraft(body);
            if (draft is { Kind: TransitionKind.Raised or TransitionKind.Repeated, Alerts.Count: > 0 } && draft.Alerts.All(dealtWith.Contains))
            {
                connection.Statement("UPDATE outbox SET state = 4, finished_at = ?2 WHERE key = ?1 AND state = 1").Run(key, at.UnixMicroseconds);
            }
        }
    }
}
