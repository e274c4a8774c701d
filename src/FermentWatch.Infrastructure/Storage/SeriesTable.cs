using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>One series, as the writer remembers it.</summary>
internal sealed class SeriesState
{
    /// <summary>Number of the series.</summary>
    public required long Id { get; init; }

    /// <summary>Readings stored, corrections included.</summary>
    public required long Readings { get; set; }

    /// <summary>Newest event time.</summary>
    public required long? LastAt { get; set; }

    /// <summary>Newest arrival.</summary>
    public required long? LastReceived { get; set; }

    /// <summary>What the judgment of the next device time needs.</summary>
    public required ClockHistory Clock { get; set; }

    /// <summary>Whether the row is behind.</summary>
    public bool IsDirty { get; set; }
}

/// <summary>Series by sensor and quantity, with the state that the next reading needs.</summary>
internal sealed class SeriesTable(WriteConnection connection)
{
    private readonly Dictionary<SeriesKey, SeriesState> _series = [];

    /// <summary>The series; created at its first reading.</summary>
    public SeriesState Of(SeriesKey key)
    {
        if (!_series.TryGetValue(key, out var state))
        {
            state = Load(key) ?? Create(key);
            _series.Add(key, state);
        }

        return state;
    }

    /// <summary>Forgets a series that has no reading any more; of one that has, learns anew what is its newest.</summary>
    public void RemoveIfEmpty(SeriesKey key)
    {
        var state = Of(key);
        if (connection.Statement("SELECT max(t) FROM reading WHERE series = ?1").Number(state.Id) is { } last)
        {
            state.LastAt = last;
            state.IsDirty = true;
            return;
        }

        connection.Statement("DELETE FROM clock_fix WHERE series = ?1").Run(state.Id);
        connection.Statement("DELETE FROM series WHERE id = ?1").Run(state.Id);
        _series.Remove(key);
    }

    /// <summary>Writes the changed rows.</summary>
    public void Flush()
    {
        foreach (var state in _series.Values)
        {
            if (!state.IsDirty)
            {
                continue;
            }

            connection.Statement("""
                UPDATE series SET readings = ?2, last_at = ?3, last_received = ?4, last_device = ?5, last_device_received = ?6 WHERE id = ?1
                """).Run(
                state.Id,
                state.Readings,
                state.LastAt,
                state.LastReceived,
                state.Clock.DeviceTime?.UnixMicroseconds,
                state.Clock.ReceivedAt?.UnixMicroseconds);
            state.IsDirty = false;
        }
    }

    private SeriesState? Load(SeriesKey key)
    {
        using var rows = connection
            .Statement("SELECT id, readings, last_at, last_received, last_device, last_device_received FROM series WHERE sensor = ?1 AND quantity = ?2")
            .Rows(key.Sensor.Value, (int)key.Quantity);
        return rows.Read()
            ? new SeriesState
            {
                Id = rows.GetInt64(0),
                Readings = rows.GetInt64(1),
                LastAt = rows.NumberOrNull(2),
                LastReceived = rows.NumberOrNull(3),
                Clock = new ClockHistory(
                    rows.NumberOrNull(4) is { } device ? new EventTime(device) : null,
                    rows.NumberOrNull(5) is { } received ? new ReceivedAt(received) : null),
            }
            : null;
    }

    private SeriesState Create(SeriesKey key)
    {
        var id = connection.Statement("INSERT INTO series (sensor, quantity, readings) VALUES (?1, ?2, 0) RETURNING id").Number(key.Sensor.Value, (int)key.Quantity)
            ?? throw new InvalidOperationException("The series table returned no number for a new row.");
        return new SeriesState { Id = id, Readings = 0, LastAt = null, LastReceived = null, Clock = ClockHistory.None };
    }
}
