using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using Microsoft.Data.Sqlite;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Batches and attachments between table and type.</summary>
internal static class BatchRows
{
    /// <summary>Origin of a batch that was written down on the page.</summary>
    public const string FromPage = "page";

    /// <summary>Origin of a batch of the configuration file.</summary>
    public const string FromFile = "file";

    /// <summary>Columns in the order that <see cref="Batch"/> reads.</summary>
    public const string Columns =
        "id, name, kind, vessel, volume_liters, inoculated, original_gravity, band_low_celsius, band_high_celsius, tolerance_percent, "
        + "origin, goal, headspace_liters, yeast, nitrogen_demand, stage_handling, stage_bands";

    /// <summary>A batch without its attachments.</summary>
    public static Batch Batch(SqliteDataReader row) => new(
        new BatchId(row.GetString(0)),
        row.GetString(1),
        (FermentKind)row.GetInt32(2),
        row.TextOrNull(3),
        row.RealOrNull(4) is { } liters ? Volume.FromLiters(liters) : null,
        new EventTime(row.GetInt64(5)),
        row.RealOrNull(6) is { } gravity ? SpecificGravity.FromRatio(gravity) : null,
        row.RealOrNull(7) is { } low && row.RealOrNull(8) is { } high
            ? new TemperatureBand(Temperature.FromCelsius(low), Temperature.FromCelsius(high))
            : null,
        row.RealOrNull(9) is { } tolerance ? AlcoholByVolume.FromPercent(tolerance) : null,
        ValueList.Of<SensorAttachment>())
    {
        Origin = row.GetString(10) == FromPage ? BatchOrigin.Page : BatchOrigin.File,
        Goal = row.TextOrNull(11),
        Headspace = row.RealOrNull(12) is { } room ? Volume.FromLiters(room) : null,
        Yeast = row.TextOrNull(13),
        NitrogenDemand = row.NumberOrNull(14) is { } demand ? (NitrogenDemand)demand : null,
        StageHandling = (StageHandling)row.GetInt32(15),
        StageBands = StageBandRows.Read(row.TextOrNull(16)),
    };

    /// <summary>An attachment; column 0 is its batch.</summary>
    public static SensorAttachment Attachment(SqliteDataReader row) => new(
        new SensorId(row.GetString(1)),
        new EventTime(row.GetInt64(2)),
        row.NumberOrNull(3) is { } until ? new EventTime(until) : null,
        (Placement)row.GetInt32(4));

    /// <summary>Adds a batch or writes over it. True when that changed anything.</summary>
    public static bool Put(WriteConnection connection, Batch batch)
    {
        var changed = connection.Statement($"""
            INSERT INTO batch ({Columns}, listed) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, 1)
            ON CONFLICT (id) DO UPDATE SET (name, kind, vessel, volume_liters, inoculated, original_gravity, band_low_celsius, band_high_celsius,
            tolerance_percent, origin, goal, headspace_liters, yeast, nitrogen_demand, stage_handling, stage_bands, listed)
            = (?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, 1)
            WHERE (name, kind, vessel, volume_liters, inoculated, original_gravity, band_low_celsius, band_high_celsius, tolerance_percent,
            origin, goal, headspace_liters, yeast, nitrogen_demand, stage_handling, stage_bands, listed)
            IS NOT (?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, 1)
            """).Run(
            batch.Id.Value,
            batch.Name,
            (int)batch.Kind,
            batch.Vessel,
            batch.Volume?.Liters,
            batch.InoculatedAt.UnixMicroseconds,
            batch.OriginalGravity?.Value,
            batch.TemperatureBand?.Low.Celsius,
            batch.TemperatureBand?.High.Celsius,
            batch.Tolerance?.Percent,
            batch.Origin == BatchOrigin.Page ? FromPage : FromFile,
            batch.Goal,
            batch.Headspace?.Liters,
            batch.Yeast,
            (int?)batch.NitrogenDemand,
            (int)batch.StageHandling,
            StageBandRows.Write(batch.StageBands)) > 0;
        if (!OwnSensors(connection, batch.Id).ToHashSet().SetEquals(batch.Sensors))
        {
            changed = true;
            connection.Statement("DELETE FROM attachment WHERE batch = ?1 AND imported = 0").Run(batch.Id.Value);
            foreach (var sensor in batch.Sensors)
            {
                connection.Statement("INSERT OR REPLACE INTO attachment (batch, sensor, from_time, until_time, placement) VALUES (?1, ?2, ?3, ?4, ?5)")
                    .Run(batch.Id.Value, sensor.Sensor.Value, sensor.From.UnixMicroseconds, sensor.Until?.UnixMicroseconds, (int)sensor.Placement);
            }

            connection.Memory.Attachments.Forget();
        }

        return changed;
    }

    /// <summary>The sensors of a batch as the maker placed them, without stretches that came with a file of readings.</summary>
    public static ValueList<SensorAttachment> OwnSensors(WriteConnection connection, BatchId batch) => ValueList.Of(connection
        .Statement("SELECT batch, sensor, from_time, until_time, placement FROM attachment WHERE batch = ?1 AND imported = 0 ORDER BY from_time, sensor")
        .List(Attachment, batch.Value));

    /// <summary>The batch of the configuration with the sensors that it was given on the page, where it was given any.</summary>
    public static Batch WithSensorsOfPage(WriteConnection connection, Batch batch) =>
        connection.Statement("SELECT 1 FROM attached_on_page WHERE batch = ?1").Number(batch.Id.Value) is null
            ? batch
            : batch with { Sensors = OwnSensors(connection, batch.Id) };

    /// <summary>Says that what a view of the batch was computed from has changed.</summary>
    public static void Revise(WriteConnection connection, string batch) => connection
        .Statement("INSERT INTO batch_state (batch, revision) VALUES (?1, 1) ON CONFLICT (batch) DO UPDATE SET revision = revision + 1")
        .Run(batch);
}
