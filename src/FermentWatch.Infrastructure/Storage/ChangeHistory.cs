using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>All that there is, as if it had just changed: for a copy that begins, or is made anew from a day on.</summary>
public sealed class ChangeHistory : IDisposable
{
    /// <summary>Name of the one follower.</summary>
    internal const string FollowerName = "copy";

    /// <summary>A long history is noted in pieces, so that a copy that is cut off does not begin from its start.</summary>
    private const long Piece = 7L * 24 * 3600 * 1_000_000;

    private readonly ReadConnections _reads;
    private readonly List<Change> _changes;

    private ChangeHistory(ReadConnections reads, List<Change> changes) => (_reads, _changes) = (reads, changes);

    /// <summary>Opens the database of a data directory for reading, also while a service works on it.</summary>
    /// <param name="options">The data directory.</param>
    /// <param name="from">Readings and forecasts before this are left out; alerts are all there.</param>
    /// <exception cref="DataDirectoryException">There is no database, or it is of another version.</exception>
    public static ChangeHistory Open(StoreOptions options, EventTime from)
    {
        ArgumentNullException.ThrowIfNull(options);
        if (!File.Exists(options.DatabasePath))
        {
            throw new DataDirectoryException(DataDirectoryProblem.NotWritable, $"There is no data in '{options.DataDirectory}'. Give the directory of the service with --data DIR.");
        }

        var reads = new ReadConnections(options.DatabasePath);
        try
        {
            var schema = reads.Read(read => read.Statement("PRAGMA user_version").Number());
            return schema == Migrations.Present
                ? new ChangeHistory(reads, reads.Read(read => Everything(read.Statement, from).ToList()))
                : throw new DataDirectoryException(
                    DataDirectoryProblem.NewerSchema,
                    $"'{options.DatabasePath}' has schema {schema}; this version reads schema {Migrations.Present}. Use the version of the service that runs on it, or start this one on it first.");
        }
        catch
        {
            reads.Dispose();
            throw;
        }
    }

    /// <summary>Reads on from a place; begin with the default one.</summary>
    public ChangeStep Read(ChangePlace place, int most) => _reads.Read(read =>
    {
        var (facts, next) = new ChangeReader(read, most).Read(place, _changes.Skip((int)place.Whole));
        return new ChangeStep(facts, next, next.Within is null && next.Whole >= _changes.Count);
    });

    /// <inheritdoc/>
    public void Dispose() => _reads.Dispose();

    /// <summary>Notes for everything, numbered from 1.</summary>
    internal static IEnumerable<Change> Everything(Func<string, Statement> statement, EventTime from)
    {
        var notes = new List<(ChangeKind Kind, string Subject, int? Quantity, long From, long Until)>();
        var series = statement("SELECT id, sensor, quantity FROM series ORDER BY id").List(row => (Id: row.GetInt64(0), Sensor: row.GetString(1), Quantity: row.GetInt32(2)));
        foreach (var one in series)
        {
            // Two lookups at the ends of the key, whatever lies between.
            var first = statement("SELECT min(t) FROM reading WHERE series = ?1 AND t >= ?2").Number(one.Id, from.UnixMicroseconds);
            var last = statement("SELECT max(t) FROM reading WHERE series = ?1").Number(one.Id);
            notes.AddRange(Pieces(first, last).Select(piece => (ChangeKind.Readings, one.Sensor, (int?)one.Quantity, piece.From, piece.Until)));
        }

        var forecasts = statement("SELECT batch, min(as_of), max(as_of) FROM forecast WHERE as_of >= ?1 GROUP BY batch ORDER BY batch")
            .List(row => (Batch: row.GetString(0), First: row.GetInt64(1), Last: row.GetInt64(2)), from.UnixMicroseconds);
        notes.AddRange(forecasts.SelectMany(one => Pieces(one.First, one.Last).Select(piece => (ChangeKind.Forecast, one.Batch, (int?)null, piece.From, piece.Until))));
        notes.AddRange(statement("SELECT batch FROM alert ORDER BY batch").List(row => (ChangeKind.Alerts, row.GetString(0), (int?)null, 0L, 0L)));
        return notes.Select((note, at) => new Change(at + 1, note.Kind, note.Subject, note.Quantity, note.From, note.Until));
    }

    private static IEnumerable<(long From, long Until)> Pieces(long? first, long? last)
    {
        for (var from = first; from <= last; from += Piece)
        {
            yield return (from.Value, Math.Min(last.Value, from.Value + Piece - 1));
        }
    }
}
