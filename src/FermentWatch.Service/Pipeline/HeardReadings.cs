using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Pipeline;

/// <summary>The messages that made somebody map a topic, as its first readings: the chart then begins at once, however seldom the sensor reports.</summary>
public static class HeardReadings
{
    // A clock that is off by more is not believed; the arrival stands for the time then.
    private static readonly TimeSpan OldestBelieved = TimeSpan.FromDays(1);
    private static readonly TimeSpan MostAhead = TimeSpan.FromMinutes(5);

    /// <summary>One row for each message that can be read, oldest first. A message that the broker had kept tells nothing about when it was sent, and is left out.</summary>
    /// <param name="mapping">What the numbers mean.</param>
    /// <param name="heard">The topic as it was heard.</param>
    public static IReadOnlyList<IReadOnlyList<ImportedReading>> Of(TopicMapping mapping, UnmappedTopic heard)
    {
        ArgumentNullException.ThrowIfNull(mapping);
        ArgumentNullException.ThrowIfNull(heard);
        return [.. heard.Recent.Where(message => !message.WasKept).Reverse().Select(message => Row(mapping, heard.Topic, message)).Where(row => row.Count > 0)];
    }

    private static List<ImportedReading> Row(TopicMapping mapping, string topic, HeardMessage message)
    {
        var decoded = PayloadDecoder.Decode(topic, message.Payload.Span, mapping);
        if (decoded.Sensor is not { } sensor)
        {
            return [];
        }

        var arrival = new EventTime(message.ReceivedAt.UnixMicroseconds);
        var isBelieved = decoded.DeviceTime is not { } told || (told >= arrival - OldestBelieved && told <= arrival + MostAhead);
        var at = isBelieved ? decoded.DeviceTime ?? arrival : arrival;
        return [.. decoded.Accepted.Select(field => new ImportedReading(
            new DecodedField(sensor, field.Quantity, field.Unit, field.Raw, field.Value, decoded.DeviceTime), at, message.ReceivedAt, isBelieved))];
    }
}
