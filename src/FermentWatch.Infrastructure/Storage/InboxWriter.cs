using System.Buffers.Binary;
using System.Security.Cryptography;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Records messages as they came, before anything is made of them.</summary>
internal static class InboxWriter
{
    /// <summary>Largest payload that is kept whole. [bytes]</summary>
    public const int LargestPayload = 8 * 1024;

    /// <summary>What is kept of a larger one. [bytes]</summary>
    public const int KeptOfTooLarge = 256;

    /// <summary>Name of the tally of redeliveries.</summary>
    public const string RedeliveryTally = "redelivered";

    /// <summary>Records a message, unless it is a redelivery.</summary>
    public static InboxReceipt Record(WriteConnection connection, InboundMessage message, byte[] kept, long hash)
    {
        var memory = connection.Memory;
        var session = memory.Sessions.Of(message.Session);
        var topic = memory.Topics.NumberOf(message.Topic);
        if (message.Duplicate && message.PacketId != 0
            && memory.Sessions.RedeliveryOf(session, message.PacketId, topic, hash) is { } known)
        {
            memory.Count(RedeliveryTally, 1);
            return new InboxReceipt(known, AlreadyRecorded: true);
        }

        var sequence = memory.NextSequence();
        connection.Statement("""
            INSERT INTO inbox (sequence, topic, received, session, packet_id, duplicate, last_known, size, hash, outcome, payload)
            VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)
            """).Run(
            sequence,
            topic,
            message.ReceivedAt.UnixMicroseconds,
            session.Id,
            (int)message.PacketId,
            message.Duplicate ? 1 : 0,
            message.LastKnown ? 1 : 0,
            Math.Max(message.Size, message.Payload.Length),
            hash,
            (int)FirstOutcome(message),
            kept);
        memory.Sessions.Enter(session, message, sequence, topic, hash);
        return new InboxReceipt(sequence, AlreadyRecorded: false);
    }

    /// <summary>The bytes that are kept of a message.</summary>
    public static byte[] Kept(InboundMessage message) => IsTooLarge(message)
        ? message.Payload[..Math.Min(KeptOfTooLarge, message.Payload.Length)].ToArray()
        : message.Payload.ToArray();

    /// <summary>Tells one payload from another: the first 64 bits of SHA-256 [FIPS 180-4] over the kept bytes and the size.</summary>
    public static long Hash(ReadOnlySpan<byte> kept, int size)
    {
        Span<byte> digest = stackalloc byte[SHA256.HashSizeInBytes];
        SHA256.HashData(kept, digest);
        return BinaryPrimitives.ReadInt64LittleEndian(digest) ^ size;
    }

    private static InboxOutcome FirstOutcome(InboundMessage message) =>
        message.LastKnown ? InboxOutcome.LastKnown
        : IsTooLarge(message) ? InboxOutcome.TooLarge
        : InboxOutcome.Pending;

    private static bool IsTooLarge(InboundMessage message) => Math.Max(message.Size, message.Payload.Length) > LargestPayload;
}
