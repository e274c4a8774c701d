using FermentWatch.Monitoring.Batches;

namespace FermentWatch.Monitoring.Telemetry.Calibration;

/// <summary>Facts with the series that follow from others: gravity from inclination, gravity by hand readings, gravity from mass.</summary>
/// <remarks>Nothing of it is stored: numbers stay as sent, so a changed calibration reaches back to all of them.</remarks>
public static class DerivedSeries
{
    /// <summary>The facts with calibrations applied.</summary>
    /// <param name="facts">As stored.</param>
    /// <param name="calibrations">Of any sensors; retired ones do not count.</param>
    public static BatchFacts Apply(BatchFacts facts, IReadOnlyList<SensorCalibration> calibrations)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(calibrations);
        var active = calibrations.Where(one => one.RetiredAt is null).OrderBy(one => one.From).ThenBy(one => one.Id).ToList();
        var series = new List<SeriesReadings>();
        foreach (var one in facts.Series)
        {
            series.Add(one.Series.Quantity == QuantityKind.Gravity ? one with { Readings = OwnGravity(one, active) } : one);
            if (GravityOf(one, facts, active) is { Count: > 0 } gravity)
            {
                series.Add(new SeriesReadings(one.Series with { Quantity = QuantityKind.Gravity }, gravity));
            }
        }

        return facts with { Series = [.. series.Where(one => one.Readings.Count > 0)] };
    }

    private static List<Reading>? GravityOf(SeriesReadings series, BatchFacts facts, List<SensorCalibration> active) => series.Series.Quantity switch
    {
        QuantityKind.Inclination => FromInclination(series, active),
        QuantityKind.VesselMass when !facts.Series.Any(other => other.Series.Sensor == series.Series.Sensor && other.Series.Quantity is QuantityKind.Gravity) =>
            [.. VesselMassGravity.Of(series.Readings, facts.Batch, facts.Journal).Gravity.Select(reading => Adjusted(reading, Of(series, active, isCurve: false)))],
        _ => null,
    };

    private static List<Reading> FromInclination(SeriesReadings series, List<SensorCalibration> active)
    {
        var curves = Of(series, active, isCurve: true);
        var adjustments = Of(series, active, isCurve: false);
        var gravity = new List<Reading>();
        foreach (var reading in series.Readings)
        {
            if (At(curves, reading.At)?.Curve is { } curve && double.IsFinite(reading.Value))
            {
                var (value, reach) = curve.At(reading.Value);
                gravity.Add(Adjusted(reading with { Value = value, Reach = reach }, adjustments));
            }
        }

        return gravity;
    }

    // Where the maker's own curve holds, the gravity that the device computes for itself gives way to it.
    private static List<Reading> OwnGravity(SeriesReadings series, List<SensorCalibration> active)
    {
        var curves = Of(series, active, isCurve: true);
        var adjustments = Of(series, active, isCurve: false);
        return [.. series.Readings.Where(reading => At(curves, reading.At) is null).Select(reading => Adjusted(reading, adjustments))];
    }

    private static Reading Adjusted(Reading reading, List<SensorCalibration> adjustments) =>
        At(adjustments, reading.At)?.Adjustment is { } adjustment ? reading with { Value = adjustment.ApplyToRatio(reading.Value) } : reading;

    private static List<SensorCalibration> Of(SeriesReadings series, List<SensorCalibration> active, bool isCurve) =>
        active.FindAll(one => one.Sensor == series.Series.Sensor && one.Curve is not null == isCurve);

    private static SensorCalibration? At(List<SensorCalibration> sorted, EventTime at) => sorted.FindLast(one => one.From <= at);
}
