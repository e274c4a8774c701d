using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>Where the connection to an external broker stands.</summary>
public enum BrokerConnectionState
{
    /// <summary>Not begun, or ended on purpose.</summary>
    Stopped,

    /// <summary>Connecting, subscribing, waiting for our own message to come back.</summary>
    Connecting,

    /// <summary>Connected, subscribed, and our own message came back.</summary>
    Connected,

    /// <summary>Broken or out of reach; another try follows by itself.</summary>
    WaitingToReconnect,

    /// <summary>The broker does not want us as we are configured; tried again now and then.</summary>
    Refused,
}

/// <summary>How the connection to an external broker is doing, for the page.</summary>
/// <param name="State">Where it stands.</param>
/// <param name="Since">When it came there.</param>
/// <param name="ProtocolVersion"><c>5</c> or <c>3.1.1</c>; null before the first answer.</param>
/// <param name="SessionResumed">Whether the broker still had our session at the last connect; false means that messages sent meanwhile may be lost.</param>
/// <param name="Recorded">Messages recorded since the start, redeliveries counted too.</param>
/// <param name="LastMessageAt">Arrival of the newest recorded message; null before the first.</param>
/// <param name="Problem">The precise cause when something is wrong: a code of <see cref="BrokerProblems"/>; null when all is well.</param>
public sealed record ExternalBrokerStatus(
    BrokerConnectionState State,
    ReceivedAt Since,
    string? ProtocolVersion,
    bool? SessionResumed,
    long Recorded,
    ReceivedAt? LastMessageAt,
    Reason? Problem);
