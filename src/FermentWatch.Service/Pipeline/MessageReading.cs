using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using Decoded = FermentWatch.Infrastructure.Storage.DecodedMessage;
using Rejected = FermentWatch.Infrastructure.Storage.RejectedField;

namespace FermentWatch.Service.Pipeline;

/// <summary>Reads a message of the inbox under the mapping that wants it, into the form that the store takes.</summary>
public sealed class MessageReading(ValueList<TopicMapping> mappings)
{
    /// <summary>Whether any mapping wants a topic.</summary>
    public bool Wants(string topic) => Find(topic) is not null;

    /// <summary>What the message says. Neither fields nor rejections when no mapping wants it any more.</summary>
    public Decoded Read(InboxRow row)
    {
        ArgumentNullException.ThrowIfNull(row);
        if (Find(row.Topic) is not { } mapping)
        {
            return new Decoded(row.Sequence, [], []);
        }

        var message = PayloadDecoder.Decode(row.Topic, row.Payload.Span, mapping);
        var rejections = message.Rejected.Select(field => new Rejected(Where(mapping, field.Quantity), field.Why)).ToList();
        if (message.TimeRejected is { } why)
        {
            rejections.Add(new Rejected(mapping.Time!.Source.ToString(), why));
        }

        var fields = message.Sensor is { } sensor
            ? message.Accepted.Select(field => new DecodedField(sensor, field.Quantity, field.Unit, field.Raw, field.Value, message.DeviceTime)).ToList()
            : [];
        return new Decoded(row.Sequence, fields, rejections);
    }

    private TopicMapping? Find(string topic) => mappings.FirstOrDefault(mapping => mapping.Filter.Matches(topic));

    private static string Where(TopicMapping mapping, QuantityKind quantity) =>
        mapping.Fields.First(field => field.Quantity == quantity).Source?.ToString() ?? "";
}
