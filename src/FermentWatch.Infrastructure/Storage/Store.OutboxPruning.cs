using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>How the log of notices is kept small. What tells of an alert that still lives does not expire.</summary>
public sealed partial class Store
{
    /// <summary>Removes notices that were finished longer ago than <paramref name="age"/>, except those of alerts that still stand.</summary>
    /// <param name="now">The present.</param>
    /// <param name="age">How long they are kept; more than a day, so that no key is used again while it can still be tried.</param>
    /// <param name="cancellationToken">Counts while the work waits for room.</param>
    /// <returns>How many were removed; at most 500 at once.</returns>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="age"/> is a day or less.</exception>
    /// <exception cref="StorageUnavailableException">Nothing was removed.</exception>
    public Task<int> PruneOutboxAsync(ReceivedAt now, TimeSpan age, CancellationToken cancellationToken)
    {
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(age, TimeSpan.FromDays(1));
        return WriteAsync(connection => OutboxPruning.Prune(connection, now - age), cancellationToken);
    }
}

/// <summary>Decides which notices of the log may go.</summary>
internal static class OutboxPruning
{
    private const int AtOnce = 500;

    public static int Prune(WriteConnection connection, ReceivedAt before)
    {
        var living = connection.Statement("SELECT body FROM alert WHERE batch <> ''").List(row => AlertJson.ReadSet(row.GetString(0)))
            .SelectMany(set => set.Alerts)
            .Where(alert => alert.Standing is AlertStanding.Raised)
            .Select(alert => alert.Key)
            .ToHashSet(StringComparer.Ordinal);
        var removed = 0;
        var old = connection.Statement("SELECT key, body FROM outbox WHERE state <> 1 AND finished_at < ?1 ORDER BY finished_at LIMIT 5000")
            .List(row => (Key: row.GetString(0), Body: row.GetString(1)), before.UnixMicroseconds);
        foreach (var (key, body) in old.Where(row => !IsOfLiving(row.Key, row.Body, living)).Take(AtOnce))
        {
            connection.Statement("DELETE FROM outbox WHERE key = ?1 AND state <> 1").Run(key);
            removed++;
        }

        return removed;
    }

    private static bool IsOfLiving(string key, string body, HashSet<string> living)
    {
        // A row of an earlier version names its alert in its key alone.
        var end = key.LastIndexOf('#');
        return (end > 0 && living.Contains(key[..end])) || AlertJson.ReadDraft(body).Alerts.Any(living.Contains);
    }
}
