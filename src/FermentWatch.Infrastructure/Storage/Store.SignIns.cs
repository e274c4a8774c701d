using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Browsers that are signed in.</summary>
public sealed partial class Store
{
    /// <summary>A sign-in ends when it was not used for so long.</summary>
    public static readonly TimeSpan LongestIdle = TimeSpan.FromDays(30);

    /// <summary>Begins a sign-in; those that ended by age go.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task BeginSignInAsync(string key, long person, string browser, CancellationToken cancellationToken) => WriteAsync(
        connection =>
        {
            connection.Statement("DELETE FROM sign_in WHERE last_seen < ?1").Run(OldestSignIn);
            return connection.Statement("INSERT INTO sign_in (key, person, begun, last_seen, browser) VALUES (?1, ?2, ?3, ?3, ?4)")
                .Run(key, person, Now, browser.Length > 200 ? browser[..200] : browser);
        },
        cancellationToken);

    /// <summary>A sign-in that counts: not ended, not too old, of somebody who may sign in; else null.</summary>
    public SignIn? FindSignIn(string key) => SignInsWhere("sign_in.key = ?2 AND person.disabled = 0", key).SingleOrDefault();

    /// <summary>All that count, the most recent first.</summary>
    public IReadOnlyList<SignIn> ReadSignIns() => SignInsWhere("?2 = ''", "");

    /// <summary>Notes that a sign-in was used.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task TouchSignInAsync(string key, CancellationToken cancellationToken) => WriteAsync(
        connection => connection.Statement("UPDATE sign_in SET last_seen = ?2 WHERE key = ?1").Run(key, Now), cancellationToken);

    /// <summary>Ends a sign-in.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task EndSignInAsync(string key, CancellationToken cancellationToken) => WriteAsync(
        connection => connection.Statement("DELETE FROM sign_in WHERE key = ?1").Run(key), cancellationToken);

    private long OldestSignIn => ReceivedAt.From(_clock.GetUtcNow() - LongestIdle).UnixMicroseconds;

    private List<SignIn> SignInsWhere(string condition, string value) => _reads.Read(read => read.Statement($"""
        SELECT sign_in.key, sign_in.begun, sign_in.last_seen, sign_in.browser, {PersonColumns}
        FROM sign_in JOIN person ON person.id = sign_in.person
        WHERE sign_in.last_seen >= ?1 AND {condition} ORDER BY sign_in.last_seen DESC, sign_in.key
        """).List(
            row => new SignIn(row.GetString(0), PersonOf(row, 4), new ReceivedAt(row.GetInt64(1)), new ReceivedAt(row.GetInt64(2)), row.GetString(3)),
            OldestSignIn,
            value));
}
