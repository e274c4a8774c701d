using System.Buffers;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>How much of a message is kept: what a sensor would never send must not fill the disk.</summary>
internal static class InboundGuard
{
    /// <summary>Longest payload that is kept whole. [bytes]</summary>
    public const int LongestWholePayload = 8 * 1024;

    /// <summary>How much is kept of a longer one. [bytes]</summary>
    public const int HeadOfLongPayload = 256;

    /// <summary>True when only the head of such a payload is kept.</summary>
    public static bool IsOversize(long size) => size > LongestWholePayload;

    /// <summary>Copies what is kept of a payload, since the buffer belongs to the receiver.</summary>
    public static byte[] Keep(ReadOnlySequence<byte> payload) =>
        (IsOversize(payload.Length) ? payload.Slice(0, HeadOfLongPayload) : payload).ToArray();

    /// <summary>The message as it is recorded.</summary>
    public static InboundMessage Message(
        string topic, ReadOnlySequence<byte> payload, ReceivedAt receivedAt, string session, ushort packetId, bool duplicate, bool lastKnown) =>
        new(topic, Keep(payload), (int)payload.Length, receivedAt, session, packetId, duplicate, lastKnown);
}
