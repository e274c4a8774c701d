using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Monitoring.Forecasting;

/// <summary>Finds the last time a ferment that slept in the cold was warmed: what it did before says little about how it goes on.</summary>
internal static class Thaw
{
    /// <summary>Below this many yeasts fall asleep. [°C] Common practice, no source.</summary>
    public const double ColdCelsius = 11.5;

    private const double WarmCelsius = 13;
    private const double LeastColdHours = 24;
    private const double LeastRiseCelsius = 4;

    /// <summary>Hour after inoculation at which it became warm for good after at least a day in the cold; null for never.</summary>
    /// <param name="temperature">Bins of the liquid, in any order.</param>
    /// <param name="inoculatedAt">Hour 0.</param>
    /// <param name="asOf">Nothing later counts.</param>
    public static double? LastAt(ValueList<TemperaturePoint> temperature, EventTime inoculatedAt, EventTime asOf)
    {
        var points = temperature.Where(point => point.At >= inoculatedAt && point.At <= asOf).OrderBy(point => point.At).ToList();
        double? coldFrom = null, warmed = null;
        var (coldest, sleptCelsius, isAsleep) = (double.PositiveInfinity, double.PositiveInfinity, false);
        foreach (var point in points)
        {
            var (hours, celsius) = ((point.At - inoculatedAt).TotalHours, point.Temperature.Celsius);
            if (celsius < ColdCelsius)
            {
                coldFrom ??= hours;
                coldest = Math.Min(coldest, celsius);
                isAsleep |= hours - coldFrom >= LeastColdHours;
            }
            else if (celsius >= WarmCelsius)
            {
                if (isAsleep)
                {
                    (warmed, sleptCelsius) = (hours, coldest);
                }

                (coldFrom, coldest, isAsleep) = (null, double.PositiveInfinity, false);
            }
        }

        return warmed is not null && points[^1].Temperature.Celsius >= sleptCelsius + LeastRiseCelsius ? warmed : null;
    }
}
