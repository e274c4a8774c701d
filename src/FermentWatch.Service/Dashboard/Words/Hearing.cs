using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Dashboard.Words;

/// <summary>How long ago a batch's sensors were heard, and whether that is late.</summary>
/// <param name="LastReceived">When anything of it last reached us; null when nothing ever did.</param>
/// <param name="Since">How long ago that was; null when nothing ever did.</param>
/// <param name="GravityLate">Whether gravity should have been heard again by now, or never was.</param>
/// <param name="TemperatureLate">The same for temperature; false where no sensor measures it.</param>
/// <param name="HasSensors">Whether any sensor is attached at all.</param>
public sealed record Hearing(DateTimeOffset? LastReceived, TimeSpan? Since, bool GravityLate, bool TemperatureLate, bool HasSensors)
{
    /// <summary>Whether anything at all is late.</summary>
    public bool IsLate => GravityLate || TemperatureLate;

    /// <summary>Judges a view at the moment its snapshot was computed.</summary>
    public static Hearing Of(BatchView view, DateTimeOffset computedAt)
    {
        ArgumentNullException.ThrowIfNull(view);
        var now = ReceivedAt.From(computedAt);
        ReceivedAt? last = view.Sensors.Select(sensor => sensor.LastReceivedAt).Max();
        var since = last is { } heard ? now - heard : (TimeSpan?)null;
        return new Hearing(
            last?.ToDateTimeOffset(),
            since,
            IsLateFor(view, QuantityKind.Gravity, view.LatestGravity?.At, computedAt),
            IsLateFor(view, QuantityKind.Temperature, view.LatestTemperature?.At, computedAt),
            view.Sensors.Count > 0);
    }

    /// <summary>
    /// Late when every sensor of the quantity is beyond the silence that the sensor-silent alert usually allows, or when what came last was measured longer ago
    /// than that: a device that sends what it stored is heard, and says nothing about now. A habit of pauses makes nothing fresher.
    /// </summary>
    private static bool IsLateFor(BatchView view, QuantityKind quantity, EventTime? measured, DateTimeOffset computedAt)
    {
        var sensors = view.Sensors.Where(sensor => sensor.Quantity == quantity).ToList();
        var now = ReceivedAt.From(computedAt);
        return sensors.Count > 0
            && (sensors.All(sensor => sensor.LastReceivedAt is not { } heard || now - heard > Allowed(sensor))
                || (measured is { } at && EventTime.From(computedAt) - at > sensors.Max(Allowed)));
    }

    private static TimeSpan Allowed(SensorStatus sensor)
    {
        var (times, least) = sensor.Quantity == QuantityKind.Gravity ? (12, TimeSpan.FromHours(12)) : (3, TimeSpan.FromHours(2));
        var byInterval = (sensor.MedianInterval ?? TimeSpan.Zero) * times;
        return byInterval > least ? byInterval : least;
    }
}
