using System.Globalization;
using System.Net.Sockets;
using System.Security.Authentication;
using MQTTnet.Exceptions;
using MQTTnet.Packets;
using MQTTnet.Protocol;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>Turns what the network and the broker answer into a named cause.</summary>
internal static class ConnectFailure
{
    /// <summary>Why the network connection did not come about.</summary>
    public static BrokerFailureException OfNetwork(Exception cause, ExternalBrokerOptions options, BrokerTrust? trust)
    {
        if (trust?.Complaint is { } complaint)
        {
            return complaint;
        }

        var port = options.Port.ToString(CultureInfo.InvariantCulture);
        for (var inner = cause; inner is not null; inner = inner.InnerException)
        {
            switch (inner)
            {
                case SocketException { SocketErrorCode: SocketError.HostNotFound or SocketError.NoData or SocketError.TryAgain }:
                    return BrokerFailureException.Broken(BrokerProblems.NameNotFound, cause, options.Host);
                case SocketException { SocketErrorCode: SocketError.ConnectionRefused }:
                    return BrokerFailureException.Broken(BrokerProblems.ConnectionRefused, cause, options.Host, port);
                case SocketException { SocketErrorCode: SocketError.HostUnreachable or SocketError.NetworkUnreachable or SocketError.NetworkDown or SocketError.HostDown }:
                    return BrokerFailureException.Broken(BrokerProblems.Unreachable, cause, options.Host, port);
                case SocketException { SocketErrorCode: SocketError.TimedOut } or OperationCanceledException or MqttCommunicationTimedOutException:
                    return BrokerFailureException.Broken(BrokerProblems.NoAnswer, cause, options.Host, port);
                case AuthenticationException:
                    return BrokerFailureException.Broken(BrokerProblems.TlsFailed, cause, options.Host, port);
            }
        }

        return options.UseTls
            ? BrokerFailureException.Broken(BrokerProblems.TlsFailed, cause, options.Host, port)
            : BrokerFailureException.Broken(BrokerProblems.Unreachable, cause, options.Host, port);
    }

    /// <summary>Why the broker did not accept us; null when it did.</summary>
    public static BrokerFailureException? OfGreeting(MqttConnAckPacket answer, ExternalBrokerOptions options)
    {
        // In MQTT 3.1.1 the reason stands in the return code alone.
        var reason = answer.ReasonCode != MqttConnectReasonCode.Success ? answer.ReasonCode : answer.ReturnCode switch
        {
            MqttConnectReturnCode.ConnectionAccepted => MqttConnectReasonCode.Success,
            MqttConnectReturnCode.ConnectionRefusedUnacceptableProtocolVersion => MqttConnectReasonCode.UnsupportedProtocolVersion,
            MqttConnectReturnCode.ConnectionRefusedIdentifierRejected => MqttConnectReasonCode.ClientIdentifierNotValid,
            MqttConnectReturnCode.ConnectionRefusedServerUnavailable => MqttConnectReasonCode.ServerUnavailable,
            MqttConnectReturnCode.ConnectionRefusedBadUsernameOrPassword => MqttConnectReasonCode.BadUserNameOrPassword,
            _ => MqttConnectReasonCode.NotAuthorized,
        };
        var said = string.IsNullOrEmpty(answer.ReasonString) ? reason.ToString() : answer.ReasonString;
        return reason switch
        {
            MqttConnectReasonCode.Success => null,
            MqttConnectReasonCode.BadUserNameOrPassword => BrokerFailureException.Refused(BrokerProblems.Credentials, null, options.UserName ?? ""),
            MqttConnectReasonCode.NotAuthorized or MqttConnectReasonCode.Banned =>
                BrokerFailureException.Refused(BrokerProblems.NotAuthorized, null, options.UserName ?? "", options.ClientId),
            MqttConnectReasonCode.ClientIdentifierNotValid => BrokerFailureException.Refused(BrokerProblems.ClientIdRefused, null, options.ClientId),
            MqttConnectReasonCode.ServerBusy or MqttConnectReasonCode.ServerUnavailable or MqttConnectReasonCode.ConnectionRateExceeded =>
                BrokerFailureException.Broken(BrokerProblems.Busy, null, said),
            MqttConnectReasonCode.UnsupportedProtocolVersion or MqttConnectReasonCode.UnspecifiedError or MqttConnectReasonCode.ProtocolError or MqttConnectReasonCode.MalformedPacket =>
                VersionRefused(said),
            // Below 0x80 MQTT 5 knows no refusal: this is a 3.1.1 broker's answer, read by the wrong rules.
            < MqttConnectReasonCode.UnspecifiedError => VersionRefused(said),
            _ => BrokerFailureException.Refused(BrokerProblems.Refused, null, said),
        };
    }

    /// <summary>Why a connection that stood has ended, by the broker's own word.</summary>
    public static BrokerFailureException OfGoodbye(MqttDisconnectPacket goodbye, ExternalBrokerOptions options) => goodbye.ReasonCode switch
    {
        MqttDisconnectReasonCode.SessionTakenOver => BrokerFailureException.Broken(BrokerProblems.ClientIdTaken, null, options.ClientId),
        MqttDisconnectReasonCode.ServerBusy or MqttDisconnectReasonCode.ServerShuttingDown =>
            BrokerFailureException.Broken(BrokerProblems.Busy, null, goodbye.ReasonCode.ToString()),
        MqttDisconnectReasonCode.NotAuthorized or MqttDisconnectReasonCode.AdministrativeAction =>
            BrokerFailureException.Refused(BrokerProblems.NotAuthorized, null, options.UserName ?? "", options.ClientId),
        _ => BrokerFailureException.Broken(BrokerProblems.ConnectionLost, null, goodbye.ReasonCode.ToString()),
    };

    /// <summary>What answered is no broker, or one that does not know this version of the protocol.</summary>
    public static BrokerFailureException NotUnderstood(Exception? cause, ExternalBrokerOptions options)
    {
        var port = options.Port.ToString(CultureInfo.InvariantCulture);
        var plain = BrokerFailureException.Broken(BrokerProblems.NotMqtt, cause, options.Host, port);
        return Versioned(plain);
    }

    private static BrokerFailureException VersionRefused(string said) => Versioned(BrokerFailureException.Refused(BrokerProblems.Refused, null, said));

    private static BrokerFailureException Versioned(BrokerFailureException failure)
    {
        failure.MayBeVersion = true;
        return failure;
    }
}
