using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>A message of the inbox that waits to be decoded.</summary>
/// <param name="Sequence">Its number.</param>
/// <param name="Topic">Full topic.</param>
/// <param name="Payload">All of its bytes.</param>
/// <param name="ReceivedAt">Arrival on our clock.</param>
public sealed record InboxRow(long Sequence, string Topic, ReadOnlyMemory<byte> Payload, ReceivedAt ReceivedAt);

/// <summary>The next messages to decode.</summary>
/// <param name="Messages">In order of arrival. Retained and too large ones are not among them.</param>
/// <param name="UpTo">The number up to which they, and the ones left out, go: hand it back with what was decoded. Equal to the cursor when nothing waits.</param>
public sealed record UndecodedMessages(IReadOnlyList<InboxRow> Messages, long UpTo);

/// <summary>A number found in a message, converted to the unit in which its quantity is kept.</summary>
/// <param name="Sensor">Which sensor.</param>
/// <param name="Quantity">What it is about.</param>
/// <param name="Unit">Unit of <paramref name="Raw"/>.</param>
/// <param name="Raw">The number as sent; finite.</param>
/// <param name="Value">In the unit in which the quantity is kept; finite.</param>
/// <param name="DeviceTime">When the device says that it was measured; null when it does not say.</param>
public sealed record DecodedField(
    SensorId Sensor,
    QuantityKind Quantity,
    MeasurementUnit Unit,
    double Raw,
    double Value,
    EventTime? DeviceTime);

/// <summary>A part of a message that cannot be read, and why.</summary>
/// <param name="Field">Where in the message: a JSON Pointer, or empty for the whole of it.</param>
/// <param name="Because">Why not.</param>
public sealed record RejectedField(string Field, Reason Because);

/// <summary>What the decoder found in a message. With neither fields nor rejections, no mapping wanted it.</summary>
/// <param name="Sequence">Number of the message.</param>
/// <param name="Fields">What was read.</param>
/// <param name="Rejections">What could not be read.</param>
public sealed record DecodedMessage(long Sequence, IReadOnlyList<DecodedField> Fields, IReadOnlyList<RejectedField> Rejections);

/// <summary>What a commit of decoded messages did.</summary>
/// <param name="UpTo">The cursor now. Below what was handed over when messages waited to be recorded: hand the rest over again.</param>
/// <param name="Stored">Readings added, corrections included.</param>
/// <param name="Known">Readings left out, since the same value at the same device time was there.</param>
/// <param name="Corrected">Readings added that correct one at the same device time.</param>
/// <param name="Rejected">Fields that could not be read.</param>
/// <param name="Repaired">Readings whose device clock was not trusted.</param>
/// <param name="Series">Series with a new reading.</param>
/// <param name="Batches">Batches to which a new reading belongs.</param>
public sealed record DecodeReport(
    long UpTo,
    int Stored,
    int Known,
    int Corrected,
    int Rejected,
    int Repaired,
    IReadOnlySet<SeriesKey> Series,
    IReadOnlySet<BatchId> Batches);
