using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.InOut;

/// <summary>A message of a sensor as a replay knows it.</summary>
/// <param name="Sensor">The sensor.</param>
/// <param name="Sequence">Its place in the order of arrival.</param>
/// <param name="Stamp">The device's own time, never repaired; the arrival where it told none.</param>
/// <param name="Gravity">SG 20/20, or null.</param>
/// <param name="Celsius">°C, or null.</param>
/// <param name="ReceivedAt">When it arrived.</param>
internal sealed record ReplayMessage(SensorId Sensor, long Sequence, EventTime Stamp, double? Gravity, double? Celsius, ReceivedAt ReceivedAt);

/// <summary>Puts the readings of a batch back together into messages, in order of arrival.</summary>
internal static class ReplayRows
{
    /// <summary>The messages with a gravity or a temperature. A year of a reading a minute is some 40 MB for the time of the export.</summary>
    public static IEnumerable<ReplayMessage> Of(Store store, Batch batch)
    {
        var all = new List<ReplayMessage>();
        foreach (var attachment in batch.Sensors)
        {
            ReplayMessage? open = null;
            store.ExportReadings(attachment.Sensor, attachment.From, attachment.Until ?? EventTime.From(DateTimeOffset.MaxValue), one =>
            {
                if (one.Series.Quantity is not (QuantityKind.Gravity or QuantityKind.Temperature))
                {
                    return;
                }

                var reading = one.Reading;
                if (open is not null && open.Sequence != reading.Sequence)
                {
                    all.Add(open);
                    open = null;
                }

                open ??= new ReplayMessage(attachment.Sensor, reading.Sequence, reading.DeviceTime ?? reading.At, null, null, reading.ReceivedAt);
                open = one.Series.Quantity == QuantityKind.Gravity ? open with { Gravity = reading.Value } : open with { Celsius = reading.Value };
            });
            if (open is not null)
            {
                all.Add(open);
            }
        }

        return all.OrderBy(message => message.Sequence);
    }
}
