using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>What a copy that is kept elsewhere still lacks.</summary>
/// <param name="Changes">Notes of changes that wait.</param>
public readonly record struct ChangeBacklog(long Changes);

/// <summary>Changes in order, for one follower.</summary>
public sealed partial class Store
{
    /// <summary>
    /// Begins to note changes for a follower, or ceases to. One that begins anew, or whose target is another than before, is given
    /// everything that there is; one that goes on goes on where it was.
    /// </summary>
    /// <param name="target">Where the copy goes, without secrets; null when there is none.</param>
    /// <param name="cancellationToken">Counts while the work waits for room.</param>
    /// <exception cref="StorageUnavailableException">Nothing was changed.</exception>
    public Task FollowChangesAsync(string? target, CancellationToken cancellationToken) => WriteAsync(connection => Follow(connection, target), cancellationToken);

    /// <summary>How far the follower has come; null when nobody follows.</summary>
    public ChangePlace? ReadFollower() => _reads.Read<ChangePlace?>(read =>
        read.Statement("SELECT change FROM follower WHERE name = ?1").Number(ChangeHistory.FollowerName) is { } change ? new ChangePlace(change, null) : null);

    /// <summary>Reads what changed behind a place, as it stands now. Nothing is held while the answer is used.</summary>
    /// <param name="place">Where to read on.</param>
    /// <param name="most">About how many facts to give; 1 or more.</param>
    public ChangeStep ReadChanges(ChangePlace place, int most) => _reads.Read(read =>
    {
        // Each change gives a fact or more, but those of empty stretches: enough of them for one step.
        var changes = read.Statement($"SELECT {Change.Columns} FROM change WHERE id > ?1 ORDER BY id LIMIT ?2").List(Change.Read, place.Whole, most);
        var (facts, next) = new ChangeReader(read, most).Read(place, changes);
        var isLast = next.Within is null && read.Statement("SELECT 1 FROM change WHERE id > ?1 LIMIT 1").Number(next.Whole) is null;
        return new ChangeStep(facts, next, isLast);
    });

    /// <summary>Notes that the follower has all up to a change; the notes are not needed any more.</summary>
    /// <exception cref="StorageUnavailableException">It was not noted: the same will be copied again.</exception>
    public Task PassChangesAsync(long upTo, CancellationToken cancellationToken) => WriteAsync(
        connection =>
        {
            connection.Statement("UPDATE follower SET change = ?2 WHERE name = ?1").Run(ChangeHistory.FollowerName, upTo);
            return connection.Statement("DELETE FROM change WHERE id <= ?1").Run(upTo);
        },
        cancellationToken);

    /// <summary>What the follower still lacks.</summary>
    public ChangeBacklog ReadChangeBacklog() => new(_reads.Read(read => read.Statement("SELECT count(*) FROM change").Number() ?? 0));

    private static bool Follow(WriteConnection connection, string? target)
    {
        connection.Memory.Changes.Forget();
        if (target is not null && connection.Statement("SELECT target FROM follower WHERE name = ?1").Text(ChangeHistory.FollowerName) == target)
        {
            return true;
        }

        connection.Statement("DELETE FROM follower").Run();
        connection.Statement("DELETE FROM change").Run();
        if (target is null)
        {
            return false;
        }

        var last = connection.Statement("SELECT seq FROM sqlite_sequence WHERE name = 'change'").Number() ?? 0;
        connection.Statement("INSERT INTO follower (name, target, change) VALUES (?1, ?2, ?3)").Run(ChangeHistory.FollowerName, target, last);
        foreach (var change in ChangeHistory.Everything(connection.Statement, new EventTime(long.MinValue)))
        {
            ChangeLog.Add(connection, change.Kind, change.Subject, change.Quantity, change.From, change.Until);
        }

        return true;
    }
}
