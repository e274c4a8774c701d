using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Api;
using Decoded = FermentWatch.Infrastructure.Storage.DecodedMessage;
using Rejected = FermentWatch.Infrastructure.Storage.RejectedField;

namespace FermentWatch.Service.Pipeline;

/// <summary>Reads a message of the inbox under the mapping that wants it, into the form that the store takes.</summary>
/// <param name="mappings">The mappings of the moment: they are asked for at every message.</param>
public sealed class MessageReading(Func<IReadOnlyList<TopicMapping>> mappings)
{
    /// <summary>Whether any mapping wants a topic.</summary>
    public bool Wants(string topic) => mappings().Any(mapping => mapping.Filter.Matches(topic));

    /// <summary>What the message says under every mapping that matches: one message may hold several sensors. Nothing when no mapping wants it any more.</summary>
    public Decoded Read(InboxRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        var fields = new List<DecodedField>();
        var rejections = new List<Rejected>();
        foreach (var mapping in mappings().Where(mapping => mapping.Filter.Matches(row.Topic)).Concat(HttpReading.MappingsOf(row)))
        {
            var message = PayloadDecoder.Decode(row.Topic, row.Payload.Span, mapping);
            rejections.AddRange(message.Rejected.Select(field => new Rejected(Where(mapping, field.Quantity), field.Why)));
            if (message.TimeRejected is { } why)
            {
                rejections.Add(new Rejected(mapping.Time!.Source.ToString(), why));
            }

            if (message.Sensor is { } sensor)
            {
                fields.AddRange(message.Accepted.Select(field =>
                    new DecodedField(sensor, field.Quantity, field.Unit, field.Raw, field.Value, message.DeviceTime)));
            }
        }

        return new Decoded(row.Sequence, fields, rejections);
    }

    private static string Where(TopicMapping mapping, QuantityKind quantity) =>
        mapping.Fields.First(field => field.Quantity == quantity).Source?.ToString() ?? "";
}
