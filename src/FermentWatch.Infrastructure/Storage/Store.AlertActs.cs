using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

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
}

/// <summary>What people say about alerts: facts, so that a pass which did not know of them is not kept.</summary>
public sealed partial class Store
{
    /// <summary>Notes what somebody says about an alert, in its batch's stored set, and raises the batch's revision.</summary>
    /// <param name="batch">The batch.</param>
    /// <param name="alert">Key of the alert.</param>
    /// <param name="act">What was said.</param>
    /// <param name="at">When, on our clock.</param>
    /// <param name="cancellationToken">Counts while the act waits for room.</param>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    /// <exception cref="FormatException">The stored set is of a newer program.</exception>
    public Task<ActOutcome> ActAsync(BatchId batch, string alert, AlertAct act, ReceivedAt at, CancellationToken cancellationToken)
    {
        ArgumentException.ThrowIfNullOrEmpty(alert);
        return WriteAsync(connection => AlertActWriter.Act(connection, batch, alert, act, at), cancellationToken);
    }
}

/// <summary>Writes an act into the set as it is on disk.</summary>
internal static class AlertActWriter
{
    public static ActOutcome Act(WriteConnection connection, BatchId batch, string alert, AlertAct act, ReceivedAt at)
    {
        if (connection.Statement("SELECT body FROM alert WHERE batch = ?1").Text(batch.Value) is not { } body)
        {
            return ActOutcome.NotStanding;
        }

        var set = AlertJson.ReadSet(body);
        if (!set.Alerts.Any(one => one.Key == alert && one.Standing is AlertStanding.Raised))
        {
            return ActOutcome.NotStanding;
        }

        var changed = set.Act(act, alert, at);
        if (changed.Alerts.Equals(set.Alerts))
        {
            return ActOutcome.SaidBefore;
        }

        connection.Statement("UPDATE alert SET body = ?2, saved_at = ?3 WHERE batch = ?1")
            .Run(batch.Value, AlertJson.Write(changed), at.UnixMicroseconds);
        connection.Memory.Changes.Alerts(batch.Value);
        BatchRows.Revise(connection, batch.Value);
        return ActOutcome.Done;
    }
}
