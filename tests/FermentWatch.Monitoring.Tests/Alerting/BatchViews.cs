using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Tests.Alerting;

/// <summary>Views with the parts that alerts live on, from readings.</summary>
internal static class BatchViews
{
    public static Batch Batch(string id, string name, TemperatureBand? band, IEnumerable<SensorAttachment> sensors) => new(
        new BatchId(id), name, FermentKind.Mead, Vessel: null, Volume: null, new EventTime(0), OriginalGravity: null, band, Tolerance: null,
        ValueList.Of(sensors));

    public static BatchView Of(
        string id,
        string name,
        TemperatureBand? band,
        IEnumerable<SensorAttachment> sensors,
        IEnumerable<SeriesKey> mapped,
        IReadOnlyList<SeriesReadings> series,
        AlertSettings settings,
        EventTime now)
    {
        var batch = Batch(id, name, band, sensors);
        return new BatchView
        {
            Batch = batch,
            Now = now,
            Phase = new PhaseAssessment(Phase.Unknown, Reason.Of("no-readings"), RatePerDay: null),
            LatestTemperature = LatestTemperature(series),
            Gravity = ValueList.Of<GravityPoint>(),
            SetAside = ValueList.Of<SetAsidePoint>(),
            Temperature = ValueList.Of<TemperaturePoint>(),
            GravityGaps = ValueList.Of<Gap>(),
            Events = ValueList.Of<TimelineEvent>(),
            Sensors = ValueList.Of(mapped.SelectMany(key => Statuses(batch, key, series, now))),
            Episodes = SampleRules.Episodes(new SampleFacts(batch, series, now), settings),
            GravityCounts = default,
        };
    }

    private static Latest<Temperature>? LatestTemperature(IReadOnlyList<SeriesReadings> series)
    {
        var newest = series
            .Where(one => one.Series.Quantity is QuantityKind.Temperature)
            .SelectMany(one => one.Readings)
            .OrderBy(reading => reading.At)
            .Cast<Reading?>()
            .LastOrDefault();
        return newest is { } reading
            ? new Latest<Temperature>(Temperature.FromCelsius(reading.Value), reading.At, reading.ReceivedAt)
            : null;
    }

    private static IEnumerable<SensorStatus> Statuses(Batch batch, SeriesKey key, IReadOnlyList<SeriesReadings> series, EventTime now)
    {
        foreach (var attachment in batch.Sensors.Where(one => one.Sensor == key.Sensor && (one.Until is not { } until || now < until)))
        {
            var readings = SampleOrder.Of(attachment, key.Quantity, series, now);
            yield return new SensorStatus(
                key.Sensor,
                key.Quantity,
                attachment.Placement,
                readings.Count == 0 ? null : readings[^1].At,
                readings.Count == 0 ? null : readings.Max(reading => reading.ReceivedAt),
                readings.Count < 3 ? null : SampleOrder.MedianInterval(readings, TimeSpan.Zero),
                attachment.From);
        }
    }
}
