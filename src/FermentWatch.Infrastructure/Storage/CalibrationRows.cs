using System.Text.Json;
using System.Text.Json.Serialization;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Monitoring.Telemetry.Calibration;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>A point of a calibration, as stored.</summary>
internal sealed record StoredPoint(double Degrees, double Gravity);

/// <summary>Points and order: the curve follows from them.</summary>
internal sealed record StoredCurve(int Order, IReadOnlyList<StoredPoint> Points);

/// <summary>A hand reading beside the sensor's, as stored.</summary>
internal sealed record StoredPair(long At, double Hand, double Sensor);

/// <summary>What brings a sensor to hand readings, as stored.</summary>
internal sealed record StoredAdjustment(double Offset, double Scale, double Around, double Error, IReadOnlyList<StoredPair> Pairs);

/// <summary>How calibrations become JSON.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower)]
[JsonSerializable(typeof(StoredCurve))]
[JsonSerializable(typeof(StoredAdjustment))]
internal sealed partial class CalibrationJson : JsonSerializerContext;

/// <summary>Calibrations between table and type.</summary>
internal static class CalibrationRows
{
    private const int KindCurve = 1;
    private const int KindAdjustment = 2;

    /// <summary>All calibrations, retired ones included, by number.</summary>
    public static List<SensorCalibration> Read(ReadConnection read) => read
        .Statement("SELECT id, sensor, from_time, kind, body, created_at, retired_at FROM calibration ORDER BY id")
        .List(row => new SensorCalibration(
            row.GetInt64(0),
            new SensorId(row.GetString(1)),
            new EventTime(row.GetInt64(2)),
            row.GetInt32(3) == KindCurve ? Curve(row.GetString(4)) : null,
            row.GetInt32(3) == KindAdjustment ? Adjustment(row.GetString(4)) : null,
            new ReceivedAt(row.GetInt64(5)),
            row.NumberOrNull(6) is { } retired ? new ReceivedAt(retired) : null));

    /// <summary>Adds a calibration and says its number.</summary>
    public static long Append(WriteConnection connection, SensorId sensor, EventTime from, InclinationCurve? curve, GravityAdjustment? adjustment, ReceivedAt now)
    {
        var body = curve is not null
            ? JsonSerializer.Serialize(
                new StoredCurve(curve.Order, [.. curve.Points.Select(point => new StoredPoint(point.Degrees, point.Gravity))]), CalibrationJson.Default.StoredCurve)
            : JsonSerializer.Serialize(Stored(adjustment!), CalibrationJson.Default.StoredAdjustment);
        var quantity = curve is not null ? QuantityKind.Inclination : QuantityKind.Gravity;
        return connection.Statement("""
            INSERT INTO calibration (sensor, quantity, from_time, kind, body, created_at) VALUES (?1, ?2, ?3, ?4, ?5, ?6) RETURNING id
            """).Number(
            sensor.Value, (int)quantity, from.UnixMicroseconds, curve is not null ? KindCurve : KindAdjustment, body, now.UnixMicroseconds)
            ?? throw new InvalidOperationException("The calibration table returned no number for a new row.");
    }

    private static StoredAdjustment Stored(GravityAdjustment adjustment) => new(
        adjustment.OffsetPoints,
        adjustment.Scale,
        adjustment.AroundPoints,
        adjustment.ErrorPoints,
        [.. adjustment.Pairs.Select(pair => new StoredPair(pair.At.UnixMicroseconds, pair.HandPoints, pair.SensorPoints))]);

    private static InclinationCurve? Curve(string json)
    {
        var stored = JsonSerializer.Deserialize(json, CalibrationJson.Default.StoredCurve)!;
        return InclinationCurve.Fit(stored.Points.Select(point => new CalibrationPoint(point.Degrees, point.Gravity)), stored.Order).Curve;
    }

    private static GravityAdjustment Adjustment(string json)
    {
        var stored = JsonSerializer.Deserialize(json, CalibrationJson.Default.StoredAdjustment)!;
        var pairs = stored.Pairs.Select(pair => new HandPair(new EventTime(pair.At), pair.Hand, pair.Sensor));
        return new GravityAdjustment(stored.Offset, stored.Scale, stored.Around, stored.Error, ValueList.Of(pairs));
    }
}
