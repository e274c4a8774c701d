using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Guests of a tasting: the code that lets them in, and who sits where.</summary>
public sealed partial class Store
{
    /// <summary>Lets guests in to a trial by a code, in place of the one before.</summary>
    /// <param name="trial">Which trial.</param>
    /// <param name="codeHash">Hash of the code.</param>
    /// <param name="code">The code, encrypted.</param>
    /// <param name="until">Until when.</param>
    /// <param name="cancellationToken">Counts while the work waits for room.</param>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task OpenTastingAsync(long trial, string codeHash, string code, ReceivedAt until, CancellationToken cancellationToken) => WriteAsync(
        connection => connection.Statement("""
            INSERT INTO trial_guest (trial, code_hash, code, expires_at) VALUES (?1, ?2, ?3, ?4)
            ON CONFLICT (trial) DO UPDATE SET code_hash = excluded.code_hash, code = excluded.code, expires_at = excluded.expires_at
            """).Run(trial, codeHash, code, until.UnixMicroseconds),
        cancellationToken);

    /// <summary>Ends the guest code of a trial and frees every place.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task EndTastingAsync(long trial, CancellationToken cancellationToken) => WriteAsync(
        connection =>
        {
            connection.Statement("DELETE FROM trial_seat WHERE trial = ?1").Run(trial);
            return connection.Statement("DELETE FROM trial_guest WHERE trial = ?1").Run(trial);
        },
        cancellationToken);

    /// <summary>The trial that a code opens; null when the code is unknown, ended or too old.</summary>
    public long? FindTasting(string codeHash) => _reads.Read(read =>
        read.Statement("SELECT trial FROM trial_guest WHERE code_hash = ?1 AND expires_at > ?2").Number(codeHash, Now));

    /// <summary>The code of a trial that counts now, or null.</summary>
    public TastingDoor? ReadTasting(long trial) => _reads.Read(read =>
        read.Statement("SELECT code, expires_at FROM trial_guest WHERE trial = ?1 AND expires_at > ?2")
            .List(row => new TastingDoor(row.GetString(0), new ReceivedAt(row.GetInt64(1))), trial, Now).SingleOrDefault());

    /// <summary>Takes a free place of a tasting for a browser. False when somebody else has it.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<bool> TakeSeatAsync(TastingSeat seat, string keyHash, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(seat);
        return WriteAsync(
            connection => connection.Statement("INSERT INTO trial_seat (trial, taster, key_hash, taken_at) VALUES (?1, ?2, ?3, ?4) ON CONFLICT DO NOTHING")
                .Run(seat.Trial, seat.Taster, keyHash, Now) == 1,
            cancellationToken);
    }

    /// <summary>Frees a place, so that another browser can take it.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task FreeSeatAsync(TastingSeat seat, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(seat);
        return WriteAsync(
            connection => connection.Statement("DELETE FROM trial_seat WHERE trial = ?1 AND taster = ?2").Run(seat.Trial, seat.Taster), cancellationToken);
    }

    /// <summary>The place that a browser holds, or null.</summary>
    public TastingSeat? FindSeat(string keyHash) => _reads.Read(read =>
        read.Statement("SELECT trial, taster FROM trial_seat WHERE key_hash = ?1").List(row => new TastingSeat(row.GetInt64(0), row.GetString(1)), keyHash).SingleOrDefault());

    /// <summary>Names whose places are taken.</summary>
    public IReadOnlyList<string> ReadSeats(long trial) => _reads.Read<IReadOnlyList<string>>(read =>
        read.Statement("SELECT taster FROM trial_seat WHERE trial = ?1 ORDER BY taken_at, taster").List(row => row.GetString(0), trial));
}
