using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>A change of unit that has to reach back to stored readings.</summary>
/// <param name="Series">The readings.</param>
/// <param name="Was">The unit for which their raw numbers were taken.</param>
/// <param name="Is">The unit that they are in.</param>
public sealed record UnitChange(SeriesKey Series, MeasurementUnit Was, MeasurementUnit Is)
{
    /// <summary>Where the readings belong afterwards: another series when the unit is one of another quantity.</summary>
    public SeriesKey Target => new(Series.Sensor, UnitConversion.QuantityOf(Is));
}

/// <summary>What a change of the field did.</summary>
/// <param name="ReadAgain">Readings taken anew from their messages.</param>
/// <param name="SetAside">Readings whose message was not at hand any more, or lacks the field.</param>
/// <param name="Batches">Batches to which such a reading belongs.</param>
public sealed record SourceChangeReport(int ReadAgain, int SetAside, IReadOnlySet<BatchId> Batches);

/// <summary>What a change of unit did.</summary>
/// <param name="Readings">Readings computed anew.</param>
/// <param name="Batches">Batches to which such a reading belongs.</param>
public sealed record UnitChangeReport(int Readings, IReadOnlySet<BatchId> Batches);

/// <summary>A wrong unit can be put right at any time: raw numbers stay with their readings.</summary>
public sealed partial class Store
{
    /// <summary>Readings that one transaction computes anew.</summary>
    public const int UnitChangePiece = 1000;

    /// <summary>
    /// Changes the unit of one field of a mapping, and notes that stored readings have to follow: both or neither.
    /// Then call <see cref="ApplyUnitChangesAsync"/>; after a crash it goes on where it stopped.
    /// </summary>
    /// <returns>False when there is no such mapping, or it is retired.</returns>
    /// <exception cref="StorageUnavailableException">Nothing was changed.</exception>
    public Task<bool> ChangeUnitAsync(long id, TopicMapping mapping, UnitChange change, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(mapping);
        ArgumentNullException.ThrowIfNull(change);
        return WriteAsync(
            connection =>
            {
                if (!Replace(connection, id, mapping))
                {
                    return false;
                }

                connection.Statement("INSERT OR REPLACE INTO unit_change (sensor, quantity, unit_was, unit_is) VALUES (?1, ?2, ?3, ?4)")
                    .Run(change.Series.Sensor.Value, (int)change.Series.Quantity, (int)change.Was, (int)change.Is);
                return true;
            },
            cancellationToken);
    }

    /// <summary>Whether messages gave both the quantity that a series holds and the one to which it would move: then its readings cannot move.</summary>
    public bool HasBoth(UnitChange change)
    {
        ArgumentNullException.ThrowIfNull(change);
        return change.Target != change.Series && _reads.Read(read => read.Statement("""
            SELECT 1 FROM series a JOIN series b ON b.sensor = a.sensor JOIN reading r ON r.series = a.id JOIN reading o ON o.series = b.id AND o.t = r.t AND o.n = r.n
            WHERE a.sensor = ?1 AND a.quantity = ?2 AND b.quantity = ?3 AND r.unit = ?4 LIMIT 1
            """).Number(change.Series.Sensor.Value, (int)change.Series.Quantity, (int)change.Target.Quantity, (int)change.Was) is not null);
    }

    /// <summary>Changes which field of its messages a mapping reads, and reads again what it read before, as far as the messages are kept: both or neither.</summary>
    /// <param name="id">The mapping.</param>
    /// <param name="mapping">As it is from now on.</param>
    /// <param name="field">The field of it that changed.</param>
    /// <param name="cancellationToken">Counts while the work waits for room.</param>
    /// <returns>Null when there is no such mapping, or it is retired.</returns>
    /// <exception cref="StorageUnavailableException">Nothing was changed.</exception>
    public Task<SourceChangeReport?> ChangeSourceAsync(long id, TopicMapping mapping, FieldMapping field, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(mapping);
        ArgumentNullException.ThrowIfNull(field);
        return WriteAsync(connection => Replace(connection, id, mapping) ? SourceChangeWriter.Write(connection, mapping, field) : null, cancellationToken);
    }

    /// <summary>Raw numbers of a series, newest first, that were taken for a unit.</summary>
    public IReadOnlyList<double> ReadRaw(SeriesKey series, MeasurementUnit unit, int limit) => _reads.Read<IReadOnlyList<double>>(read => read
        .Statement("""
            SELECT coalesce(raw, value) FROM reading JOIN series ON series.id = reading.series
            WHERE series.sensor = ?1 AND series.quantity = ?2 AND reading.unit = ?3 ORDER BY t DESC LIMIT ?4
            """)
        .List(row => row.GetDouble(0), series.Sensor.Value, (int)series.Quantity, (int)unit, limit));

    /// <summary>
    /// Computes readings anew from their raw numbers for every noted change of unit, with their roll-ups, in pieces of <see cref="UnitChangePiece"/>,
    /// so that messages are recorded between them. Each piece raises the revision of the batches that it touches.
    /// </summary>
    /// <exception cref="StorageUnavailableException">The last piece was not written; what came before it is, and a later call goes on.</exception>
    public async Task<UnitChangeReport> ApplyUnitChangesAsync(CancellationToken cancellationToken)
    {
        var readings = 0;
        var batches = new HashSet<BatchId>();
        foreach (var change in ReadUnitChanges())
        {
            (long T, long N)? after = (long.MinValue, long.MinValue);
            while (after is { } last)
            {
                var piece = await WriteAsync(connection => new UnitChangeWriter(connection, change).Piece(last, UnitChangePiece), cancellationToken).ConfigureAwait(false);
                readings += piece.Readings;
                batches.UnionWith(piece.Batches);
                after = piece.Last;
            }
        }

        return new UnitChangeReport(readings, batches);
    }

    /// <summary>Changes of unit that still have to reach back.</summary>
    public IReadOnlyList<UnitChange> ReadUnitChanges() => _reads.Read<IReadOnlyList<UnitChange>>(read => read
        .Statement("SELECT sensor, quantity, unit_was, unit_is FROM unit_change ORDER BY sensor, quantity")
        .List(row => new UnitChange(
            new SeriesKey(new SensorId(row.GetString(0)), (QuantityKind)row.GetInt32(1)),
            (MeasurementUnit)row.GetInt32(2),
            (MeasurementUnit)row.GetInt32(3))));
}
