using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Batches.Cleaning;

/// <summary>How a sensor's gravity follows its own temperature, which gravity itself does not do within hours.</summary>
/// <remarks>
/// <para><b>Method.</b> Gravity and temperature by the hour, each less its mean over the day around (which takes the fall of the ferment away); the slope
/// of one on the other by least squares, wild hours cut. It counts when it is three of its errors from nothing, with correlated noise counted, and is drawn
/// towards nothing by that error. A faster ferment in the warm hours lags a quarter of a day behind and does not look like it.</para>
/// <para><b>Valid.</b> Two days and more in which the temperature moves by a tenth of a degree and more within a day. The reading is brought to 20 °C, to which
/// hydrometers are made: common practice, no source. <b>Check.</b> TemperatureEffectTests.</para>
/// </remarks>
internal static class TemperatureEffect
{
    /// <summary>The temperature to which readings are brought. [°C]</summary>
    public const double ReferenceCelsius = 20;

    private const int HalfDay = 12;
    private const int FewestInDay = 16;
    private const int FewestHours = 48;
    private const double LeastSwing = 0.08;
    private const double FewestErrors = 3;
    private const double UsualSpread = 0.2;
    private const double MostPerCelsius = 1;
    private const double Wild = 3;

    /// <summary>Thousandths for each degree, or null where the readings show none.</summary>
    /// <param name="track">Cleaned, steps taken off.</param>
    /// <param name="temperature">Of the same sensor, in event order.</param>
    public static double? PointsPerCelsius(GravityTrack track, Reading[] temperature)
    {
        if (temperature.Length < FewestHours / 2)
        {
            return null;
        }

        var (gravity, celsius) = ByTheHour(track, temperature);
        var (x, y) = (new List<double>(), new List<double>());
        for (var hour = 0; hour < gravity.Length; hour++)
        {
            if (!double.IsNaN(gravity[hour]) && AroundDay(gravity, celsius, hour) is var (meanGravity, meanCelsius, count) && count >= FewestInDay)
            {
                x.Add(celsius[hour] - meanCelsius);
                y.Add(gravity[hour] - meanGravity);
            }
        }

        return x.Count < FewestHours ? null : Slope(x, y);
    }

    /// <summary>Brings the readings to 20 °C.</summary>
    public static void Remove(GravityTrack track, Reading[] temperature, double pointsPerCelsius)
    {
        var near = 0;
        for (var i = 0; i < track.Count; i++)
        {
            track.Shift[i] += pointsPerCelsius * (CelsiusAt(temperature, track.Readings[i].At, ref near) - ReferenceCelsius);
        }
    }

    private static double? Slope(List<double> x, List<double> y)
    {
        var squares = x.Sum(value => value * value);
        if (Math.Sqrt(squares / x.Count) < LeastSwing)
        {
            return null;
        }

        var slope = 0.0;
        var residuals = y.ToArray();
        for (var round = 0; round < 3; round++)
        {
            var scale = Hampel.NormalFactor * Hampel.MedianInPlace(Array.ConvertAll(residuals, Math.Abs));
            var cut = residuals.Select((value, i) => (slope * x[i]) + Math.Clamp(value, -Wild * scale, Wild * scale)).ToArray();
            slope = x.Zip(cut, (one, other) => one * other).Sum() / squares;
            residuals = [.. y.Select((value, i) => value - (slope * x[i]))];
        }

        var noise = Hampel.NormalFactor * Hampel.MedianInPlace(Array.ConvertAll(residuals, Math.Abs));
        // Both run through the day: hours within one are worth little more than one.
        var error = noise * Math.Sqrt(Math.Max(CorrelatedNoise.Inflation(residuals, HalfDay), 2) / squares);
        return Math.Abs(slope) < FewestErrors * error || Math.Abs(slope) > MostPerCelsius
            ? null
            : slope * UsualSpread * UsualSpread / ((UsualSpread * UsualSpread) + (error * error));
    }

    private static (double[] Gravity, double[] Celsius) ByTheHour(GravityTrack track, Reading[] temperature)
    {
        var kept = track.KeptPositions();
        if (kept.Length == 0)
        {
            return ([], []);
        }

        var first = (int)Math.Floor(track.Hours[kept[0]]);
        var count = (int)Math.Clamp(Math.Floor(track.Hours[kept[^1]]) - first + 1, 1, 24 * 400);
        var (gravity, celsius, counts) = (new double[count], new double[count], new int[count]);
        var near = 0;
        foreach (var position in kept)
        {
            var hour = (int)Math.Floor(track.Hours[position]) - first;
            if (hour < count)
            {
                gravity[hour] += track.Points[position] - track.Shift[position];
                celsius[hour] += CelsiusAt(temperature, track.Readings[position].At, ref near);
                counts[hour]++;
            }
        }

        for (var hour = 0; hour < count; hour++)
        {
            (gravity[hour], celsius[hour]) = counts[hour] == 0 ? (double.NaN, double.NaN) : (gravity[hour] / counts[hour], celsius[hour] / counts[hour]);
        }

        return (gravity, celsius);
    }

    private static (double Gravity, double Celsius, int Count) AroundDay(double[] gravity, double[] celsius, int hour)
    {
        var (sum, sumCelsius, count) = (0.0, 0.0, 0);
        // As many hours before as after, so that the fall of the ferment cancels.
        for (var back = 1; back <= HalfDay && hour - back >= 0 && hour + back < gravity.Length; back++)
        {
            if (!double.IsNaN(gravity[hour - back]) && !double.IsNaN(gravity[hour + back]))
            {
                sum += gravity[hour - back] + gravity[hour + back];
                sumCelsius += celsius[hour - back] + celsius[hour + back];
                count += 2;
            }
        }

        return count == 0 ? (0, 0, 0) : (sum / count, sumCelsius / count, count);
    }

    /// <summary>Between the readings beside a time; times must rise from call to call with the same place.</summary>
    private static double CelsiusAt(Reading[] temperature, EventTime at, ref int place)
    {
        while (place + 1 < temperature.Length && temperature[place + 1].At <= at)
        {
            place++;
        }

        var before = temperature[place];
        if (before.At >= at || place + 1 == temperature.Length)
        {
            return before.Value;
        }

        var after = temperature[place + 1];
        var part = (at - before.At).TotalHours / Math.Max((after.At - before.At).TotalHours, 1e-6);
        return before.Value + (part * (after.Value - before.Value));
    }
}
