using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>A notice that is to be sent.</summary>
/// <param name="Key">Stable key: what is under a known key is not queued again.</param>
/// <param name="Channel">Through which channel.</param>
/// <param name="Body">What to send, in the channel's own form.</param>
/// <param name="NextAttemptAt">When to try first.</param>
public sealed record OutboxEntry(string Key, string Channel, string Body, ReceivedAt NextAttemptAt);

/// <summary>A forecast as it is kept for the record.</summary>
/// <param name="AsOf">The grid line on which it stands.</param>
/// <param name="EngineVersion">Version of the method.</param>
/// <param name="Prior">Version of the prior snapshot.</param>
/// <param name="MadeAt">When it was made.</param>
/// <param name="Quantiles">The forecast as JSON.</param>
public sealed record ForecastRecord(EventTime AsOf, string EngineVersion, string Prior, ReceivedAt MadeAt, string Quantiles);

/// <summary>What one pass over a batch, or over the service itself, decided.</summary>
/// <param name="Batch">The batch; null for the service.</param>
/// <param name="Revision">The revision of the facts from which it was computed; passed over for the service.</param>
/// <param name="At">The pass's own time.</param>
/// <param name="AlertSet">The alert set as JSON, or null when it did not change.</param>
/// <param name="Outbox">Notices to queue.</param>
/// <param name="Forecast">The forecast to keep, or null.</param>
public sealed record PassResult(
    BatchId? Batch,
    long Revision,
    ReceivedAt At,
    string? AlertSet,
    IReadOnlyList<OutboxEntry> Outbox,
    ForecastRecord? Forecast)
{
    /// <summary>Keys of notices that must not go out any more if they still wait; unknown keys do no harm.</summary>
    public IReadOnlyList<string> Overtaken { get; init; } = [];

    /// <summary>What was planned for whom, as JSON; null when it need not be written.</summary>
    public string? Ledger { get; init; }
}

/// <summary>What passes decide: alert sets, notices and forecasts.</summary>
public sealed partial class Store
{
    /// <summary>Keeps what a pass decided, in one transaction, if the batch's revision is still the one it was computed from.</summary>
    /// <returns>False when a journal edit or a change of the batch overtook the pass: nothing was written, compute it again.</returns>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<bool> CommitPassAsync(PassResult pass, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(pass);
        return CommitPassesAsync([pass], cancellationToken);
    }

    /// <summary>Keeps a pass over several batches whole: a notice about several of them never goes out without the sets that say so.</summary>
    /// <returns>False when any of the batches was revised since: nothing was written.</returns>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<bool> CommitPassesAsync(IReadOnlyList<PassResult> passes, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(passes);
        return WriteAsync(connection => PassWriter.Commit(connection, passes), cancellationToken);
    }

    /// <summary>What was planned for whom, as JSON; null before the first pass.</summary>
    public string? ReadLedger() => _reads.Read(read => read.Statement("SELECT value FROM property WHERE name = ?1").Text(PassWriter.LedgerName));

    /// <summary>The stored alert set of a batch, or (null) of the service itself, as JSON; null before the first.</summary>
    public string? ReadAlertSet(BatchId? batch) => _reads.Read(read =>
        read.Statement("SELECT body FROM alert WHERE batch = ?1").Text(batch?.Value ?? PassWriter.ServiceKey));

    /// <summary>What was said at moments: for each the forecast that stood then, first made within a day of its grid line; moments without one are left out.</summary>
    public IReadOnlyList<ForecastRecord> ReadSaid(BatchId batch, IReadOnlyList<EventTime> moments) => _reads.Read<IReadOnlyList<ForecastRecord>>(read =>
        [.. moments.Select(moment => ForecastRows.Said(read, batch.Value, moment.UnixMicroseconds)).OfType<ForecastRecord>().DistinctBy(record => record.AsOf)]);

    /// <summary>Forecasts of a batch as they were made, by grid line, then by when they were made.</summary>
    public IReadOnlyList<ForecastRecord> ReadForecasts(BatchId batch) =>
        _reads.Read<IReadOnlyList<ForecastRecord>>(read => ForecastRows.Between(read, batch.Value, long.MinValue, long.MaxValue));
}
