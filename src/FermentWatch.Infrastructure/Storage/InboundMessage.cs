using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>A message on a mapped topic, as it came off the wire.</summary>
/// <param name="Topic">Full topic.</param>
/// <param name="Payload">The bytes: all of them up to 8 kB; of a longer message the first 256.</param>
/// <param name="Size">Size of the message on the wire, in bytes.</param>
/// <param name="ReceivedAt">Arrival on our clock.</param>
/// <param name="Session">Who delivered it: <c>embedded/</c> and the device's client id, or <c>external/</c> and our own client id.</param>
/// <param name="PacketId">Packet identifier; 0 for quality of service 0.</param>
/// <param name="Duplicate">The DUP flag.</param>
/// <param name="LastKnown">True for a retained message that a broker sent because we subscribed: age unknown, never a reading.</param>
public sealed record InboundMessage(
    string Topic,
    ReadOnlyMemory<byte> Payload,
    int Size,
    ReceivedAt ReceivedAt,
    string Session,
    ushort PacketId,
    bool Duplicate,
    bool LastKnown);

/// <summary>What became of a message.</summary>
/// <param name="Sequence">Its number in the inbox.</param>
/// <param name="AlreadyRecorded">True when it was a redelivery of that number, and nothing was added.</param>
public readonly record struct InboxReceipt(long Sequence, bool AlreadyRecorded);

/// <summary>Records a message and returns after its commit reached the disk.</summary>
/// <exception cref="StorageUnavailableException">It is not on disk: the message must not be acknowledged.</exception>
public delegate ValueTask<InboxReceipt> RecordMessage(InboundMessage message, CancellationToken cancellationToken);

/// <summary>
/// Tells the store that the deliverer of a session has seen our acknowledgement of every message up to a number,
/// so that none of them can come again as a redelivery.
/// </summary>
public delegate ValueTask ConfirmAcknowledged(string session, long sequence, CancellationToken cancellationToken);

/// <summary>A write could not be committed: disk full, read-only, failing, or the store is closing.</summary>
public sealed class StorageUnavailableException : Exception
{
    /// <summary>Says what failed.</summary>
    public StorageUnavailableException(string message, Exception? innerException = null)
        : base(message, innerException)
    {
    }
}
