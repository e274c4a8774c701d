using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Forecasting;

/// <summary>How fast a ferment's clock runs at the measured temperature, as a multiple of 20 °C.</summary>
/// <remarks>
/// <para><b>Equation.</b> exp(0.07 (T - 20)) / (1 + exp(-(T - c)/1.2)): an exponential rise and a cut-off in the cold around c.</para>
/// <para><b>Valid.</b> c to 32 °C; beyond, it is clamped to 0 and 36 °C. <b>Error.</b> ±20 % of the rate at 12 and 30 °C (an estimate).</para>
/// <para><b>Source.</b> The exponent lies just below those of growth and sugar use in M. C. Coleman, R. Fish, D. E. Block, Appl. Environ.
/// Microbiol. 73 (2007) 5875-5884 (0.078 and 0.077, from a second-hand reading); the cold cut-off is common practice, no source.</para>
/// </remarks>
internal sealed class ThermalTime
{
    /// <summary>Lowest temperature of half rate that a curve may assume. [°C]</summary>
    public const double LowestColdLimit = 0;

    /// <summary>Highest temperature of half rate that a curve may assume. [°C]</summary>
    public const double HighestColdLimit = 18;

    private const double Exponent = 0.07;
    private const double ColdWidth = 1.2;

    private readonly double[] _hours;
    private readonly double[] _celsius;
    private readonly double _ahead;

    /// <summary>Takes the temperatures up to <paramref name="untilHours"/>, hours counted from <paramref name="origin"/>.</summary>
    public ThermalTime(ValueList<TemperaturePoint> points, EventTime origin, double untilHours)
    {
        var kept = points
            .Select(p => (Hours: (p.At - origin).TotalHours, p.Temperature.Celsius))
            .Where(p => p.Hours >= -48 && p.Hours <= untilHours)
            .OrderBy(p => p.Hours).ThenBy(p => p.Celsius)
            .ToArray();
        _hours = [.. kept.Select(p => p.Hours)];
        _celsius = [.. kept.Select(p => p.Celsius)];

        // The room will not stay at the hour of the day at which we look: a day's mean is the best guess for what comes, moved towards the
        // present where one day differs from the next, which day and night do not make.
        double? Mean(double from, double until)
        {
            var between = kept.Where(p => p.Hours > untilHours + from && p.Hours <= untilHours + until).ToArray();
            return between.Length > 0 ? between.Average(p => p.Celsius) : null;
        }

        if (Mean(-24, 0) is not { } lastDay)
        {
            _ahead = kept.Length > 0 ? kept[^1].Celsius : 20;
        }
        else if (Mean(-48, -24) is { } dayBefore && Mean(-4, 0) is { } now)
        {
            var trend = lastDay + ((lastDay - dayBefore) / 2);
            _ahead = Math.Clamp(trend, Math.Min(lastDay, now), Math.Max(lastDay, now));
        }
        else
        {
            _ahead = lastDay;
        }
    }

    /// <summary>Whether any temperature was measured.</summary>
    public bool HasReadings => _hours.Length > 0;

    /// <summary>Temperature expected from now on. [°C]</summary>
    public double CelsiusAhead => _ahead;

    /// <summary>Lowest temperature measured from an hour on; 20 °C when there is none. [°C]</summary>
    public double LowestCelsius(double fromHours)
    {
        var lowest = double.PositiveInfinity;
        for (var i = _hours.Length - 1; i >= 0 && _hours[i] >= fromHours; i--)
        {
            lowest = Math.Min(lowest, _celsius[i]);
        }

        return double.IsFinite(lowest) ? lowest : 20;
    }

    /// <summary>Speed at a temperature.</summary>
    public static double SpeedAt(double celsius, double coldLimit)
    {
        var clamped = Math.Clamp(celsius, 0, 36);
        return Math.Exp(Exponent * (clamped - 20)) / (1 + Math.Exp(-(clamped - coldLimit) / ColdWidth));
    }

    /// <summary>Measured temperature at a past hour, interpolated; the nearest one outside the measured time.</summary>
    public double CelsiusAt(double hours)
    {
        if (_hours.Length == 0)
        {
            return 20;
        }

        var index = Array.BinarySearch(_hours, hours);
        if (index >= 0)
        {
            return _celsius[index];
        }

        index = ~index;
        if (index == 0 || index == _hours.Length)
        {
            return _celsius[Math.Min(index, _hours.Length - 1)];
        }

        var part = (hours - _hours[index - 1]) / (_hours[index] - _hours[index - 1]);
        return _celsius[index - 1] + (part * (_celsius[index] - _celsius[index - 1]));
    }
}
