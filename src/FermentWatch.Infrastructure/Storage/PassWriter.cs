namespace FermentWatch.Infrastructure.Storage;

/// <summary>Keeps what a pass decided.</summary>
internal static class PassWriter
{
    /// <summary>Stands for the service itself where a batch's key would be.</summary>
    public const string ServiceKey = "";

    /// <summary>Name of the property that keeps what was planned for whom.</summary>
    public const string LedgerName = "notice-ledger";

    /// <summary>Writes all passes, or none and false when one of their batches was revised since.</summary>
    public static bool Commit(WriteConnection connection, IReadOnlyList<PassResult> passes)
    {
        if (passes.Any(pass => WasRevised(connection, pass)))
        {
            return false;
        }

        foreach (var pass in passes)
        {
            Write(connection, pass);
        }

        return true;
    }

    private static bool WasRevised(WriteConnection connection, PassResult pass) => pass.Batch is { } batch
        && (connection.Statement("SELECT revision FROM batch_state WHERE batch = ?1").Number(batch.Value) ?? 0) != pass.Revision;

    private static void Write(WriteConnection connection, PassResult pass)
    {
        var batch = pass.Batch?.Value ?? ServiceKey;
        if (pass.AlertSet is { } alerts)
        {
            connection.Statement("""
                INSERT INTO alert (batch, body, saved_at) VALUES (?1, ?2, ?3)
                ON CONFLICT (batch) DO UPDATE SET body = excluded.body, saved_at = excluded.saved_at
                """).Run(batch, alerts, pass.At.UnixMicroseconds);
            connection.Memory.Changes.Alerts(batch);
        }

        if (pass.Ledger is { } ledger)
        {
            connection.Statement("INSERT INTO property (name, value) VALUES (?1, ?2) ON CONFLICT (name) DO UPDATE SET value = excluded.value").Run(LedgerName, ledger);
        }

        // Before the new ones: a key is never overtaken by itself.
        foreach (var key in pass.Overtaken)
        {
            connection.Statement("UPDATE outbox SET state = 4, finished_at = ?2 WHERE key = ?1 AND state = 1").Run(key, pass.At.UnixMicroseconds);
        }

        foreach (var entry in pass.Outbox)
        {
            connection.Statement("""
                INSERT OR IGNORE INTO outbox (key, batch, channel, body, created_at, next_attempt_at, attempts, state) VALUES (?1, ?2, ?3, ?4, ?5, ?6, 0, 1)
                """).Run(entry.Key, batch, entry.Channel, entry.Body, pass.At.UnixMicroseconds, entry.NextAttemptAt.UnixMicroseconds);
        }

        if (pass is { Batch: not null, Forecast: { } forecast })
        {
            Keep(connection, batch, forecast);
        }
    }

    /// <summary>Passes come more often than grid lines: the same forecast is kept once.</summary>
    private static void Keep(WriteConnection connection, string batch, ForecastRecord forecast)
    {
        var newest = connection.Statement("""
            SELECT quantiles FROM forecast WHERE batch = ?1 AND as_of = ?2 AND engine_version = ?3 AND prior = ?4 ORDER BY made_at DESC LIMIT 1
            """).Text(batch, forecast.AsOf.UnixMicroseconds, forecast.EngineVersion, forecast.Prior);
        if (newest != forecast.Quantiles)
        {
            connection.Statement("""
                INSERT OR REPLACE INTO forecast (batch, as_of, engine_version, prior, made_at, quantiles) VALUES (?1, ?2, ?3, ?4, ?5, ?6)
                """).Run(batch, forecast.AsOf.UnixMicroseconds, forecast.EngineVersion, forecast.Prior, forecast.MadeAt.UnixMicroseconds, forecast.Quantiles);
            connection.Memory.Changes.Forecast(batch, forecast.AsOf);
        }
    }
}
