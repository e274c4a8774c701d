using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>What became of one reading.</summary>
internal enum ReadingFate
{
    /// <summary>Added.</summary>
    Stored,

    /// <summary>Added; it corrects an earlier value at the same device time.</summary>
    Corrected,

    /// <summary>Left out: the same value at the same device time is there.</summary>
    Known,

    /// <summary>Left out: the same message gave another number for this series and time before.</summary>
    Refused,
}

/// <summary>How the quality of a reading is stored.</summary>
[Flags]
internal enum ReadingQuality
{
    None = 0,

    /// <summary>The event time is not the device's own, since its clock was not trusted.</summary>
    ClockNotTrusted = 1,

    /// <summary>A later message gave another value for the same device time.</summary>
    Superseded = 2,
}

/// <summary>The identity of a reading: what is new, what was known, what is a correction.</summary>
internal sealed class ReadingWriter(WriteConnection connection, RollupWriter rollups)
{
    /// <summary>Stores one number of a message.</summary>
    /// <returns>Its fate and the event time that was judged.</returns>
    public (ReadingFate Fate, ClockVerdict Clock) Store(long sequence, ReceivedAt receivedAt, DecodedField field)
    {
        var series = connection.Memory.Series.Of(new SeriesKey(field.Sensor, field.Quantity));
        return Store(series, sequence, receivedAt, field, ClockRepair.Judge(field.DeviceTime, receivedAt, series.Clock));
    }

    /// <summary>Stores one number of an import, whose time is not judged again: it was, when it was first recorded, or the maker vouches for it.</summary>
    public ReadingFate Import(long sequence, ImportedReading reading)
    {
        var field = reading.Field;
        var series = connection.Memory.Series.Of(new SeriesKey(field.Sensor, field.Quantity));
        // A number without a device time that can be trusted has no other identity than its time and value.
        return (field.DeviceTime is null || !reading.ClockTrusted) && IsThere(series.Id, reading.At, field.Value)
            ? ReadingFate.Known
            : Store(series, sequence, reading.ReceivedAt, field, new ClockVerdict(reading.At, reading.ClockTrusted, null, series.Clock)).Fate;
    }

    private (ReadingFate Fate, ClockVerdict Clock) Store(SeriesState series, long sequence, ReceivedAt receivedAt, DecodedField field, ClockVerdict clock)
    {
        series.Clock = clock.Next;
        series.LastReceived = Math.Max(series.LastReceived ?? long.MinValue, receivedAt.UnixMicroseconds);
        series.IsDirty = true;

        var corrects = false;
        if (field.DeviceTime is not null && clock.Trusted)
        {
            if (IsKnown(series.Id, clock.At, field.Value))
            {
                return (ReadingFate.Known, clock);
            }

            corrects = Supersede(series.Id, clock.At, sequence) > 0;
        }

        if (!Insert(series, sequence, receivedAt, field, clock))
        {
            return (ReadingFate.Refused, clock);
        }

        connection.Memory.Changes.Reading(new SeriesKey(field.Sensor, field.Quantity), clock.At.UnixMicroseconds);
        if (corrects)
        {
            rollups.Recompute(series.Id, clock.At);
        }
        else
        {
            rollups.Add(series.Id, clock.At, field.Value);
        }

        return (corrects ? ReadingFate.Corrected : ReadingFate.Stored, clock);
    }

    /// <summary>Any earlier value counts, not only the one that holds: a repeat of a corrected reading must not undo its correction.</summary>
    private bool IsKnown(long series, EventTime at, double value) => connection.Statement("""
        SELECT 1 FROM reading WHERE series = ?1 AND t = ?2 AND device_offset IS NOT NULL AND (quality & 1) = 0 AND value = ?3 LIMIT 1
        """).Number(series, at.UnixMicroseconds, value) is not null;

    private bool IsThere(long series, EventTime at, double value) => connection
        .Statement("SELECT 1 FROM reading WHERE series = ?1 AND t = ?2 AND value = ?3 LIMIT 1")
        .Number(series, at.UnixMicroseconds, value) is not null;

    private int Supersede(long series, EventTime at, long sequence) => connection.Statement("""
        UPDATE reading SET quality = quality | 2 WHERE series = ?1 AND t = ?2 AND device_offset IS NOT NULL AND quality = 0 AND n <> ?3
        """).Run(series, at.UnixMicroseconds, sequence);

    private bool Insert(SeriesState series, long sequence, ReceivedAt receivedAt, DecodedField field, ClockVerdict clock)
    {
        var t = clock.At.UnixMicroseconds;
        var added = connection.Statement("""
            INSERT INTO reading (series, t, n, device_offset, received_offset, unit, raw, value, quality) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)
            ON CONFLICT DO NOTHING
            """).Run(
            series.Id,
            t,
            sequence,
            field.DeviceTime?.UnixMicroseconds - t,
            receivedAt.UnixMicroseconds - t,
            (int)field.Unit,
            BitConverter.DoubleToInt64Bits(field.Raw) == BitConverter.DoubleToInt64Bits(field.Value) ? null : field.Raw,
            field.Value,
            (int)(clock.Trusted ? ReadingQuality.None : ReadingQuality.ClockNotTrusted));
        if (added == 0)
        {
            return false;
        }

        if (clock.Code is { } code)
        {
            connection.Statement("INSERT INTO clock_fix (series, n, device_time, t, code) VALUES (?1, ?2, ?3, ?4, ?5)")
                .Run(series.Id, sequence, field.DeviceTime?.UnixMicroseconds, t, code);
        }

        series.Readings++;
        series.LastAt = Math.Max(series.LastAt ?? long.MinValue, t);
        return true;
    }
}
