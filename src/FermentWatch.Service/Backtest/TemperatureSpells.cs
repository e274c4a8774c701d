using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Backtest;

/// <summary>Spells of the liquid outside its band, as the predictions define them. The alert rule asks less and clears later: it is about people.</summary>
internal static class TemperatureSpells
{
    private static readonly TimeSpan Reach = TimeSpan.FromHours(12);
    private static readonly TimeSpan Length = TimeSpan.FromHours(4);

    // A spell that still lasts will most often last for long enough.
    private static readonly TimeSpan LengthSoFar = TimeSpan.FromHours(1);
    private static readonly TimeSpan Smoothing = TimeSpan.FromMinutes(45);
    private static readonly TimeSpan LongestSilence = TimeSpan.FromHours(12);

    /// <summary>Whether a spell of at least 4 h reaches into the last 12 h.</summary>
    public static bool ReachesIntoTheLastHours(BatchView view)
    {
        if (view.Batch.TemperatureBand is not { } band)
        {
            return false;
        }

        EventTime? began = null;
        EventTime last = default;
        var points = view.Temperature;
        for (var i = 0; i < points.Count; i++)
        {
            if (i > 0 && points[i].At - points[i - 1].At > LongestSilence)
            {
                began = null;
            }

            var celsius = Around(points, i);
            if (celsius > band.High.Celsius || celsius < band.Low.Celsius)
            {
                began ??= points[i].At;
                last = points[i].At;
                var isNewest = i == points.Count - 1;
                if (last >= view.Now - Reach && last - began.Value >= (isNewest ? LengthSoFar : Length))
                {
                    return true;
                }
            }
            else
            {
                began = null;
            }
        }

        return false;
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
