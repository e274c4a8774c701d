using System.Net;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>How the embedded broker listens.</summary>
public sealed record EmbeddedBrokerOptions
{
    /// <summary>Address to listen on. Default: loopback (127.0.0.1), reachable from this machine only.</summary>
    public IPAddress Address { get; init; } = IPAddress.Loopback;

    /// <summary>TCP port, 1 to 65535. Default 1883, the port registered for MQTT.</summary>
    public int Port { get; init; } = 1883;

    /// <summary>Certificate for encrypted connections on <see cref="TlsPort"/>; null (the default) offers none.</summary>
    public BrokerCertificate? Certificate { get; init; }

    /// <summary>TCP port of encrypted connections, 1 to 65535. Default 8883, the port registered for MQTT over TLS.</summary>
    public int TlsPort { get; init; } = 8883;

    /// <summary>User name that clients must give; null (the default) lets everybody in who can reach the address.</summary>
    public string? UserName { get; init; }

    /// <summary>Password that goes with <see cref="UserName"/>.</summary>
    public string? Password { get; init; }

    /// <summary>Further rules on who may come in and publish what; null for none.</summary>
    public BrokerAdmission? Admission { get; init; }

    /// <summary>Most clients connected at a time, 1 to 10,000. Default 500. Further ones are told that the broker is busy.</summary>
    public int MaximumClients { get; init; } = 500;

    /// <summary>How long a connection may stay silent before it says who it is. Default 15 s, range 1 s to 2 min.</summary>
    public TimeSpan GreetingTimeout { get; init; } = TimeSpan.FromSeconds(15);
}
