using System.Net;
using System.Net.Sockets;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>The embedded broker cannot listen where it was told to.</summary>
public sealed class BrokerStartException : Exception
{
    internal BrokerStartException(IPAddress address, int port, SocketException cause)
        : base($"The embedded broker cannot listen on address {address}, port {port}: {Explain(address, port, cause)}", cause)
    {
        Address = address;
        Port = port;
    }

    /// <summary>The address that was tried.</summary>
    public IPAddress Address { get; }

    /// <summary>The port that was tried.</summary>
    public int Port { get; }

    private static string Explain(IPAddress address, int port, SocketException cause) => cause.SocketErrorCode switch
    {
        SocketError.AddressAlreadyInUse =>
            "another program uses that port already. If it is an MQTT broker, set it as the external broker; otherwise choose another port.",
        SocketError.AddressNotAvailable =>
            $"{address} is not an address of this machine. Right would be 127.0.0.1 for this machine only, 0.0.0.0 for all its networks, or one of its own addresses.",
        SocketError.AccessDenied =>
            $"this user may not open port {port}. Right would be a port from 1024 to 65535.",
        _ => cause.Message,
    };
}
