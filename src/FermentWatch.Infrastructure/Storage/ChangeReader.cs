using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using Microsoft.Data.Sqlite;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>A note of what changed.</summary>
internal sealed record Change(long Id, ChangeKind Kind, string Subject, int? Quantity, long From, long Until)
{
    /// <summary>Columns in the order that <see cref="Read"/> takes.</summary>
    public const string Columns = "id, kind, subject, quantity, from_time, until_time";

    public SeriesKey Series => new(new SensorId(Subject), (QuantityKind)Quantity!.Value);

    public static Change Read(SqliteDataReader row) =>
        new(row.GetInt64(0), (ChangeKind)row.GetInt32(1), row.GetString(2), (int?)row.NumberOrNull(3), row.GetInt64(4), row.GetInt64(5));
}

/// <summary>Turns notes of changes into facts as they stand now, a bounded number at a time.</summary>
internal sealed class ChangeReader(ReadConnection read, int most)
{
    private readonly List<CopiedFact> _facts = [];
    private readonly Dictionary<SeriesKey, long?> _series = [];
    private Statement? _readings;

    /// <summary>Reads on from a place; <paramref name="changes"/> begin behind it, in order.</summary>
    public (IReadOnlyList<CopiedFact> Facts, ChangePlace Next) Read(ChangePlace place, IEnumerable<Change> changes)
    {
        foreach (var change in changes)
        {
            var within = place.Within;
            switch (change.Kind)
            {
                case ChangeKind.Readings:
                    within = AddReadings(change, within);
                    if (within is not null)
                    {
                        return (_facts, place with { Within = within });
                    }

                    break;
                case ChangeKind.Left:
                    _facts.Add(new CopiedFact.OneReading(change.Series, (change.From * 1000) + change.Until, null, Counts: false));
                    break;
                case ChangeKind.Forecast:
                    AddForecasts(change);
                    break;
                case ChangeKind.Alerts when read.Statement("SELECT body FROM alert WHERE batch = ?1").Text(change.Subject) is { } body:
                    _facts.Add(new CopiedFact.AlertsOf(change.Subject == PassWriter.ServiceKey ? null : new BatchId(change.Subject), body));
                    break;
            }

            place = new ChangePlace(change.Id, null);
            if (_facts.Count >= most)
            {
                break;
            }
        }

        return (_facts, place);
    }

    /// <summary>Null when all were added, else the last one.</summary>
    private (long T, long Sequence)? AddReadings(Change change, (long T, long Sequence)? after)
    {
        var key = change.Series;
        if (!_series.TryGetValue(key, out var series))
        {
            _series.Add(key, series = ReadingRows.Number(read, key));
        }

        if (series is null)
        {
            return null;
        }

        // A corrected value gives way to the one that holds: both have the same place in the copy.
        _readings ??= read.Statement("""
            SELECT t, n, device_offset, received_offset, raw, value, quality FROM reading r
            WHERE series = ?1 AND t >= ?2 AND t <= ?3 AND (t, n) > (?4, ?5)
            AND NOT ((quality & 3) = 2 AND device_offset IS NOT NULL
                AND EXISTS (SELECT 1 FROM reading o WHERE o.series = r.series AND o.t = r.t AND o.device_offset IS NOT NULL AND o.quality = 0))
            ORDER BY t, n LIMIT ?6
            """);
        var room = Math.Max(1, most - _facts.Count);
        var (t, n) = after ?? (long.MinValue, long.MinValue);
        using var rows = _readings.Rows(series, change.From, change.Until, t, n, room);
        var count = 0;
        while (rows.Read())
        {
            _facts.Add(Fact(key, rows));
            (t, n) = (rows.GetInt64(0), rows.GetInt64(1));
            count++;
        }

        return count == room ? (t, n) : null;
    }

    private static CopiedFact.OneReading Fact(SeriesKey key, SqliteDataReader row)
    {
        var t = row.GetInt64(0);
        var quality = (ReadingQuality)row.GetInt32(6);
        var trusted = !quality.HasFlag(ReadingQuality.ClockNotTrusted);
        var value = row.GetDouble(5);
        return new CopiedFact.OneReading(
            key,
            (t * 1000) + CopiedFact.PlaceInMicrosecond(trusted && !row.IsDBNull(2), row.GetInt64(1)),
            new ReadingFigures(value, row.RealOrNull(4) ?? value, TimeSpan.FromMicroseconds(row.GetInt64(3)), trusted),
            Counts: !quality.HasFlag(ReadingQuality.Superseded));
    }

    private void AddForecasts(Change change)
    {
        var sensors = read.Statement("SELECT batch, sensor, from_time, until_time, placement FROM attachment WHERE batch = ?1 ORDER BY sensor, from_time")
            .List(BatchRows.Attachment, change.Subject);
        var (name, vessel) = read.Statement("SELECT name, vessel FROM batch WHERE id = ?1")
            .List(row => (Name: row.GetString(0), Vessel: row.TextOrNull(1)), change.Subject)
            .FirstOrDefault((Name: change.Subject, Vessel: null));
        foreach (var record in ForecastRows.Between(read, change.Subject, change.From, change.Until))
        {
            _facts.Add(new CopiedFact.OneForecast(
                new BatchId(change.Subject), name, vessel, record, [.. sensors.Where(sensor => sensor.Covers(record.AsOf))]));
        }
    }
}
