using FermentWatch.Monitoring.Batches.Cleaning;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Monitoring.Telemetry.Calibration;

namespace FermentWatch.Monitoring.Batches;

/// <summary>Where the battery of a sensor is going.</summary>
public sealed record SensorBattery(SensorId Sensor, BatteryTrend Trend);

/// <summary>Reads the batteries of the sensors that are attached now.</summary>
internal static class SensorBatteries
{
    // No sensor's battery has so many volts: more is a percentage.
    private const double MostVolts = 20;

    private static readonly TimeSpan Mean = TimeSpan.FromHours(1);

    public static ValueList<SensorBattery> Of(IReadOnlyList<SeriesOfBatch> series, ValueList<TemperaturePoint> temperature, EventTime now)
    {
        var list = new List<SensorBattery>();
        foreach (var one in series)
        {
            if (one.Key.Quantity is QuantityKind.Battery && one.Readings.Length > 0 && Array.Exists(one.Attachments, attachment => attachment.Covers(now)))
            {
                var unit = one.Readings.Max(reading => reading.Value) > MostVolts ? MeasurementUnit.Percent : MeasurementUnit.Volts;
                list.Add(new SensorBattery(one.Key.Sensor, BatteryTrend.Of(AtOneTemperature(Hourly(one.Readings, now), temperature), unit, now)));
            }
        }

        return ValueList.Of(list);
    }

    private static List<(EventTime At, double Value)> Hourly(Reading[] readings, EventTime now)
    {
        var hours = new List<(EventTime At, double Value)>();
        foreach (var hour in readings.Where(reading => now - reading.At <= BatteryTrend.Window && double.IsFinite(reading.Value)).GroupBy(reading => reading.At.UnixMicroseconds / (long)Mean.TotalMicroseconds))
        {
            hours.Add((hour.First().At, hour.Average(reading => reading.Value)));
        }

        return hours;
    }

    /// <summary>A cold battery shows less: what follows the temperature is taken out, by the robust slope of the steps of both.</summary>
    private static List<(EventTime At, double Value)> AtOneTemperature(List<(EventTime At, double Value)> hours, ValueList<TemperaturePoint> temperature)
    {
        if (hours.Count < 12 || temperature.Count < 2)
        {
            return hours;
        }

        var celsius = new double[hours.Count];
        for (var (i, j) = (0, 0); i < hours.Count; i++)
        {
            while (j + 1 < temperature.Count && temperature[j + 1].At <= hours[i].At)
            {
                j++;
            }

            celsius[i] = temperature[j].Temperature.Celsius;
        }

        // Steps over a few hours: the slow fall of the battery hardly shows in them, the day and the night do.
        const int Lag = 6;
        var steps = Enumerable.Range(Lag, hours.Count - Lag).Where(i => i % Math.Max(1, hours.Count / 150) == 0 && Math.Abs(celsius[i] - celsius[i - Lag]) > 0.5).ToList();
        if (steps.Count < 8)
        {
            return hours;
        }

        var (slope, low, high) = TheilSen.Interval(steps.ConvertAll(i => celsius[i] - celsius[i - Lag]), steps.ConvertAll(i => hours[i].Value - hours[i - Lag].Value));
        return low > 0 || high < 0 ? [.. hours.Select((hour, i) => (hour.At, hour.Value - (slope * (celsius[i] - celsius[0]))))] : hours;
    }
}
