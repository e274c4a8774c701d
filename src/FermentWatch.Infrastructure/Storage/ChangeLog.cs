using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>What a note of a change is about. Stored by number: never renumber.</summary>
internal enum ChangeKind
{
    /// <summary>Readings of a series between two event times were added or changed.</summary>
    Readings = 1,

    /// <summary>A reading left its series: it belongs to another one.</summary>
    Left = 2,

    /// <summary>A forecast was kept.</summary>
    Forecast = 3,

    /// <summary>The alert set of a batch was kept.</summary>
    Alerts = 4,
}

/// <summary>Notes what a transaction changed, within that transaction, as long as somebody follows.</summary>
internal sealed class ChangeLog(WriteConnection connection)
{
    /// <summary>A note about readings never covers more than an hour: late ones must not have all between copied again.</summary>
    private const long Widest = 3_600_000_000;

    private readonly Dictionary<(SeriesKey Series, long Hour), (long From, long Until)> _readings = [];
    private readonly HashSet<(ChangeKind Kind, string Subject, int? Quantity, long From, long Until)> _others = [];
    private bool? _isFollowed;

    private bool IsFollowed => _isFollowed ??= connection.Statement("SELECT 1 FROM follower LIMIT 1").Number() is not null;

    /// <summary>Somebody began or ceased to follow.</summary>
    public void Forget() => _isFollowed = null;

    /// <summary>A reading was added or changed.</summary>
    public void Reading(SeriesKey series, long t)
    {
        if (IsFollowed)
        {
            var key = (series, Math.DivRem(t, Widest).Quotient);
            var (from, until) = _readings.GetValueOrDefault(key, (t, t));
            _readings[key] = (Math.Min(from, t), Math.Max(until, t));
        }
    }

    /// <summary>A reading left its series.</summary>
    public void Left(SeriesKey series, long t, long place) => Note(ChangeKind.Left, series.Sensor.Value, (int)series.Quantity, t, place);

    /// <summary>A forecast was kept.</summary>
    public void Forecast(string batch, EventTime asOf) => Note(ChangeKind.Forecast, batch, null, asOf.UnixMicroseconds, asOf.UnixMicroseconds);

    /// <summary>The alert set of a batch was kept; the empty key is the service itself.</summary>
    public void Alerts(string batch) => Note(ChangeKind.Alerts, batch, null, 0, 0);

    /// <summary>Writes the notes, before the commit.</summary>
    public void Flush()
    {
        foreach (var ((series, _), (from, until)) in _readings)
        {
            Add(connection, ChangeKind.Readings, series.Sensor.Value, (int)series.Quantity, from, until);
        }

        foreach (var (kind, subject, quantity, from, until) in _others)
        {
            Add(connection, kind, subject, quantity, from, until);
        }

        _readings.Clear();
        _others.Clear();
    }

    /// <summary>Adds one note.</summary>
    public static void Add(WriteConnection connection, ChangeKind kind, string subject, int? quantity, long from, long until) => connection
        .Statement("INSERT INTO change (kind, subject, quantity, from_time, until_time) VALUES (?1, ?2, ?3, ?4, ?5)")
        .Run((int)kind, subject, quantity, from, until);

    private void Note(ChangeKind kind, string subject, int? quantity, long from, long until)
    {
        if (IsFollowed)
        {
            _others.Add((kind, subject, quantity, from, until));
        }
    }
}
