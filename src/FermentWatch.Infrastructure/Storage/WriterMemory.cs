namespace FermentWatch.Infrastructure.Storage;

/// <summary>What the writer thread remembers of the tables between transactions, so that a message costs two statements.</summary>
internal sealed class WriterMemory
{
    private readonly WriteConnection _connection;
    private readonly Dictionary<string, long> _tallies = new(StringComparer.Ordinal);
    private long? _lastSequence;

    public WriterMemory(WriteConnection connection)
    {
        _connection = connection;
        Sessions = new SessionWindows(connection);
        Topics = new TopicTable(connection);
        Series = new SeriesTable(connection);
        Attachments = new AttachmentList(connection);
        Changes = new ChangeLog(connection);
    }

    /// <summary>Sessions and what can still be in flight in them.</summary>
    public SessionWindows Sessions { get; }

    /// <summary>Numbers of topics.</summary>
    public TopicTable Topics { get; }

    /// <summary>Series with the state that the next reading needs.</summary>
    public SeriesTable Series { get; private set; }

    /// <summary>Which sensor belongs to which batch, over which interval.</summary>
    public AttachmentList Attachments { get; }

    /// <summary>Notes of what changes, for a copy elsewhere.</summary>
    public ChangeLog Changes { get; }

    /// <summary>Highest number given to a message so far. The cursor counts too: the inbox may be pruned empty, and a number never comes twice.</summary>
    public long LastSequence => _lastSequence ??= _connection
        .Statement("SELECT max(coalesce((SELECT max(sequence) FROM inbox), 0), coalesce((SELECT max(sequence) FROM cursor), 0))")
        .Number() ?? 0;

    /// <summary>The number of the next message.</summary>
    public long NextSequence()
    {
        _lastSequence = LastSequence + 1;
        return _lastSequence.Value;
    }

    /// <summary>Rows came in that no message brought: numbers go on behind theirs, and nothing that was remembered counts.</summary>
    public void Reach(long sequence)
    {
        _lastSequence = Math.Max(LastSequence, sequence);
        Series = new SeriesTable(_connection);
        Attachments.Forget();
    }

    /// <summary>Adds to a count that is kept for good.</summary>
    public void Count(string tally, long more)
    {
        if (more != 0)
        {
            _tallies[tally] = _tallies.GetValueOrDefault(tally) + more;
        }
    }

    /// <summary>Writes what was gathered, before the commit.</summary>
    public void Flush()
    {
        Sessions.Flush();
        Series.Flush();
        Changes.Flush();
        foreach (var (name, more) in _tallies)
        {
            _connection.Statement("INSERT INTO tally (name, count) VALUES (?1, ?2) ON CONFLICT (name) DO UPDATE SET count = count + excluded.count")
                .Run(name, more);
        }

        _tallies.Clear();
    }
}
