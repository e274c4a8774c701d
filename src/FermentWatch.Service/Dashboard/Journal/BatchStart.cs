using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Dashboard.Journal;

/// <summary>When a batch that is started from a sensor may have begun: only a proposal, for the form.</summary>
internal static class BatchStart
{
    private static readonly TimeSpan LongestBefore = TimeSpan.FromDays(1);

    /// <summary>The first reading of a sensor that was in no batch yet, at most a day ago, so that the curve shows it; else now. The form cuts the seconds off: never after the reading.</summary>
    public static EventTime For(IServiceProvider services, string sensor, EventTime now)
    {
        if (sensor.Length == 0 || services.GetService<Store>() is not { } store || store.ReadBatches().Any(batch => batch.Sensors.Any(one => one.Sensor.Value == sensor)))
        {
            return now;
        }

        return store.ReadSeries()
            .Where(series => series.Series.Sensor.Value == sensor)
            .SelectMany(series => store.ReadReadings(series.Series, now - LongestBefore, now).Take(1))
            .Select(reading => reading.At)
            .OrderBy(at => at.UnixMicroseconds)
            .Append(now)
            .First();
    }
}
