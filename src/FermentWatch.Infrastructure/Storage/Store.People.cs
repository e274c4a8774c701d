using FermentWatch.Monitoring.Telemetry;
using Microsoft.Data.Sqlite;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>People who may sign in.</summary>
public sealed partial class Store
{
    private const string PersonColumns = "person.id, person.name, person.role, person.password IS NOT NULL, person.disabled";

    /// <summary>Everybody, by name.</summary>
    public IReadOnlyList<Person> ReadPeople() => _reads.Read(read =>
        read.Statement($"SELECT {PersonColumns} FROM person ORDER BY name_key").List(PersonOf));

    /// <summary>The hash of somebody's password; null when there is none.</summary>
    public string? ReadPasswordHash(long person) => _reads.Read(read => read.Statement("SELECT password FROM person WHERE id = ?1").Text(person));

    /// <summary>Whom a name means, whatever its capitals; null when nobody.</summary>
    public Person? FindPerson(string name) => _reads.Read(read =>
        read.Statement($"SELECT {PersonColumns} FROM person WHERE name_key = ?1").List(PersonOf, KeyOf(name)).SingleOrDefault());

    /// <summary>Whose an invitation is that still counts; null when it is unknown, used or too old.</summary>
    public Person? FindInvited(string invitationHash) => _reads.Read(read =>
        read.Statement($"SELECT {PersonColumns} FROM person WHERE invitation = ?1 AND invited_until > ?2 AND disabled = 0")
            .List(PersonOf, invitationHash, Now).SingleOrDefault());

    /// <summary>Adds the first person, a maker with a password. Null, and nothing added, when somebody has a password already or the name is taken.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<long?> AddFirstMakerAsync(string name, string passwordHash, CancellationToken cancellationToken) => WriteAsync<long?>(
        connection => connection.Statement("SELECT count(*) FROM person WHERE password IS NOT NULL").Number() > 0
            ? null
            : connection.Statement("""
                INSERT INTO person (name, name_key, role, password, disabled, created) VALUES (?1, ?2, ?3, ?4, 0, ?5)
                ON CONFLICT (name_key) DO NOTHING RETURNING id
                """).Number(name.Trim(), KeyOf(name), (int)Role.Maker, passwordHash, Now),
        cancellationToken);

    /// <summary>Adds somebody who chooses a password by an invitation. Null when the name is taken.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<long?> InviteAsync(string name, Role role, string invitationHash, ReceivedAt until, CancellationToken cancellationToken) => WriteAsync(
        connection => connection.Statement("""
            INSERT INTO person (name, name_key, role, disabled, invitation, invited_until, created) VALUES (?1, ?2, ?3, 0, ?4, ?5, ?6)
            ON CONFLICT (name_key) DO NOTHING RETURNING id
            """).Number(name.Trim(), KeyOf(name), (int)role, invitationHash, until.UnixMicroseconds, Now),
        cancellationToken);

    /// <summary>Gives somebody a new invitation in place of the one before; a password stays until it is used.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task RenewInvitationAsync(long person, string invitationHash, ReceivedAt until, CancellationToken cancellationToken) => WriteAsync(
        connection => connection.Statement("UPDATE person SET invitation = ?2, invited_until = ?3 WHERE id = ?1").Run(person, invitationHash, until.UnixMicroseconds),
        cancellationToken);

    /// <summary>Sets a password by an invitation, which is then used up, and ends the person's sign-ins. False when the invitation does not count any more.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<bool> AcceptInvitationAsync(string invitationHash, string passwordHash, CancellationToken cancellationToken) => WriteAsync(
        connection =>
        {
            var person = connection.Statement("""
                UPDATE person SET password = ?2, invitation = NULL, invited_until = NULL
                WHERE invitation = ?1 AND invited_until > ?3 AND disabled = 0 RETURNING id
                """).Number(invitationHash, passwordHash, Now);
            connection.Statement("DELETE FROM sign_in WHERE person = ?1").Run(person ?? 0);
            return person is not null;
        },
        cancellationToken);

    /// <summary>Changes a password and ends the person's sign-ins except one.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task SetPasswordAsync(long person, string passwordHash, string? keepSignIn, CancellationToken cancellationToken) => WriteAsync(
        connection =>
        {
            connection.Statement("UPDATE person SET password = ?2 WHERE id = ?1").Run(person, passwordHash);
            return connection.Statement("DELETE FROM sign_in WHERE person = ?1 AND key <> ?2").Run(person, keepSignIn ?? "");
        },
        cancellationToken);

    /// <summary>Changes a role, or whether somebody may sign in; being disabled ends their sign-ins. False, and nothing changed, when no maker with a password would be left.</summary>
    /// <exception cref="StorageUnavailableException">Nothing was written.</exception>
    public Task<bool> ChangePersonAsync(long person, Role role, bool isDisabled, CancellationToken cancellationToken) => WriteAsync(
        connection =>
        {
            var others = connection.Statement("SELECT count(*) FROM person WHERE role = 3 AND disabled = 0 AND password IS NOT NULL AND id <> ?1").Number(person);
            if (others == 0 && (role != Role.Maker || isDisabled))
            {
                return false;
            }

            connection.Statement("UPDATE person SET role = ?2, disabled = ?3 WHERE id = ?1").Run(person, (int)role, isDisabled ? 1 : 0);
            if (isDisabled)
            {
                connection.Statement("DELETE FROM sign_in WHERE person = ?1").Run(person);
            }

            return true;
        },
        cancellationToken);

    private long Now => ReceivedAt.From(_clock.GetUtcNow()).UnixMicroseconds;

    private static string KeyOf(string name) => name.Trim().Normalize(System.Text.NormalizationForm.FormKC).ToUpperInvariant();

    private static Person PersonOf(SqliteDataReader row) => PersonOf(row, 0);

    private static Person PersonOf(SqliteDataReader row, int first) => new(
        row.GetInt64(first), row.GetString(first + 1), (Role)row.GetInt32(first + 2), row.GetBoolean(first + 3), row.GetBoolean(first + 4));
}
