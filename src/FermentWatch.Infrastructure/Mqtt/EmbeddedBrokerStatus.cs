using System.Net;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>How the embedded broker is doing, for the page.</summary>
/// <param name="Listening">Where it listens; null while it does not.</param>
/// <param name="Clients">Clients connected now.</param>
/// <param name="Recorded">Messages recorded since the start, redeliveries counted too.</param>
/// <param name="NotRecorded">Messages that the store could not take. Their senders got no acknowledgement.</param>
/// <param name="Unmapped">Messages on topics that nobody mapped.</param>
/// <param name="LastMessageAt">Arrival of the newest recorded message; null before the first.</param>
/// <param name="Problem">Why messages are not being recorded; null when the last one was.</param>
public sealed record EmbeddedBrokerStatus(
    IPEndPoint? Listening,
    int Clients,
    long Recorded,
    long NotRecorded,
    long Unmapped,
    ReceivedAt? LastMessageAt,
    Reason? Problem);
