using System.Globalization;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Sensors;

/// <summary>A sensor in the list.</summary>
/// <param name="Sensor">Its name.</param>
/// <param name="Measures">What it measures, in words.</param>
/// <param name="Where">In which batch it is, in words.</param>
/// <param name="Heard">When it was last heard, in words.</param>
public sealed record SensorLine(SensorId Sensor, string Measures, string Where, string Heard)
{
    // 'float-2' stands before 'float-10'.
    private static readonly StringComparer ByNumber = StringComparer.Create(CultureInfo.InvariantCulture, CompareOptions.IgnoreCase | CompareOptions.NumericOrdering);

    /// <summary>All sensors, by name.</summary>
    public static IReadOnlyList<SensorLine> All(Store store, Visit visit)
    {
        ArgumentNullException.ThrowIfNull(store);
        ArgumentNullException.ThrowIfNull(visit);
        var series = store.ReadSeries().ToLookup(one => one.Series.Sensor);
        var now = EventTime.From(visit.Now);
        return [.. store.ReadSensors().OrderBy(sensor => sensor.Value, ByNumber).Select(sensor =>
        {
            var inside = store.ReadStays(sensor).Where(stay => stay.Attachment.Covers(now)).Select(stay => stay.Name).Distinct().ToList();
            ReceivedAt? last = series[sensor].Select(one => one.LastReceivedAt).Max();
            return new SensorLine(
                sensor,
                string.Join(", ", series[sensor].Select(one => TodayRows.QuantityWords(one.Series.Quantity).ToLowerInvariant())),
                inside.Count == 0 ? SensorText.Of("in-no-batch") : SensorText.Of("in-batch", string.Join(", ", inside)),
                last is { } heard ? SensorText.Of("last-heard", Reader.Ago(ReceivedAt.From(visit.Now) - heard)) : SensorText.Of("never-heard-yet"));
        })];
    }
}
