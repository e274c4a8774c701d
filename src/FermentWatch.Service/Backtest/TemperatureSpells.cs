using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Backtest;

/// <summary>Spells of the liquid outside its band, as the predictions define them. The alert rule asks less and clears later: it is about people.</summary>
internal static class TemperatureSpells
{
    // Twelve hours, and the half hour by which the smoothing shortens a spell.
    private static readonly TimeSpan Reach = TimeSpan.FromHours(12.5);
    private static readonly TimeSpan Length = TimeSpan.FromHours(4);

    // A spell that still lasts will most often last for long enough.
    private static readonly TimeSpan LengthSoFar = TimeSpan.FromHours(1);
    private static readonly TimeSpan Smoothing = TimeSpan.FromMinutes(45);
    private static readonly TimeSpan LongestSilence = TimeSpan.FromHours(60);
    private static readonly TimeSpan TrendLength = TimeSpan.FromHours(3);

    // Thermometers of this kind are off by half a degree: a spell must be seen to be outside. One that goes further is one from where it left.
    private const double Margin = 0.5;
    private const double MarginOfClear = 0.2;
    private const double Clear = 0.8;
    private const double TrendPerHour = 0.1;
    private const double FarOutside = 1;
    private const int FewestForTrend = 4;

    /// <summary>Whether a spell of at least 4 h reaches into the last 12 h.</summary>
    public static bool ReachesIntoTheLastHours(BatchView view) =>
        view.Batch.TemperatureBand is { } band && ReachesIntoTheLastHours(band, view.Temperature, view.Now);

    /// <summary>The same from the band and the bins of temperature up to now, in time order.</summary>
    public static bool ReachesIntoTheLastHours(TemperatureBand band, ValueList<TemperaturePoint> points, EventTime now) =>
        Reaches(band, points, now, Margin, Margin) || Reaches(band, points, now, MarginOfClear, Clear);

    private static bool Reaches(TemperatureBand band, ValueList<TemperaturePoint> points, EventTime now, double margin, double clear)
    {
        EventTime? began = null;
        var furthest = 0.0;
        for (var i = 0; i < points.Count; i++)
        {
            if (i > 0 && points[i].At - points[i - 1].At > LongestSilence)
            {
                began = null;
            }

            var isNewest = i == points.Count - 1;
            var silence = now - points[i].At;
            var (celsius, perHour) = isNewest ? Present(points, silence) : (Around(points, i), 0);
            var above = celsius - band.High.Celsius;
            var below = band.Low.Celsius - celsius;
            var outside = Math.Max(above, below);
            if (outside <= margin)
            {
                began = null;
                continue;
            }

            (began, furthest) = began is { } since ? (since, Math.Max(furthest, outside)) : (points[i].At, outside);

            // A sensor that fell silent far outside the band has most likely stayed there; one on its way out will most likely go on.
            var isOutStill = isNewest && silence < LongestSilence && outside > FarOutside;
            var isLeaving = isNewest && (above > below ? perHour : -perHour) > TrendPerHour;
            var reaches = furthest > clear && (isOutStill || points[i].At >= now - Reach);
            if (reaches && (isLeaving || (isOutStill ? now : points[i].At) - began.Value >= (isNewest ? LengthSoFar : Length)))
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>The newest temperature by the straight line through the last hours, and its change. [°C, °C/h]</summary>
    private static (double Celsius, double PerHour) Present(ValueList<TemperaturePoint> points, TimeSpan silence)
    {
        var last = points.Count - 1;
        var newest = points[last].At;
        var first = last;
        while (first > 0 && newest - points[first - 1].At <= TrendLength)
        {
            first--;
        }

        var count = last - first + 1;
        if (count < FewestForTrend)
        {
            return (Around(points, last), 0);
        }

        double[] hours = new double[count], celsius = new double[count];
        for (var i = 0; i < count; i++)
        {
            (hours[i], celsius[i]) = ((points[first + i].At - newest).TotalHours, points[first + i].Temperature.Celsius);
        }

        if (SlopeTest.Through(hours, celsius) is not { } line)
        {
            return (Around(points, last), 0);
        }

        return (celsius.Average() + (line.Slope * (Math.Min(silence.TotalHours, 1) - hours.Average())), line.Slope);
    }

    private static double Around(ValueList<TemperaturePoint> points, int middle)
    {
        var (sum, count) = (0.0, 0);
        for (var i = middle; i >= 0 && points[middle].At - points[i].At <= Smoothing; i--)
        {
            (sum, count) = (sum + points[i].Temperature.Celsius, count + 1);
        }

        for (var i = middle + 1; i < points.Count && points[i].At - points[middle].At <= Smoothing; i++)
        {
            (sum, count) = (sum + points[i].Temperature.Celsius, count + 1);
        }

        return sum / count;
    }
}
