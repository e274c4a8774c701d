using System.Net;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>Where notices may be sent. The public internet always; what follows only as the owner of this machine allows it.</summary>
public sealed record OutgoingRules
{
    /// <summary>Private networks to which notices may go, such as 192.168.0.0/16; empty for none.</summary>
    public ValueList<IPNetwork> Networks { get; init; } = ValueList.Of<IPNetwork>();

    /// <summary>The networks that may be allowed: RFC 1918, RFC 6598 (shared between a provider and its customers), RFC 4193.</summary>
    public static IReadOnlyList<IPNetwork> PrivateNetworks { get; } =
    [
        IPNetwork.Parse("10.0.0.0/8"), IPNetwork.Parse("172.16.0.0/12"), IPNetwork.Parse("192.168.0.0/16"), IPNetwork.Parse("100.64.0.0/10"), IPNetwork.Parse("fc00::/7"),
    ];

    /// <summary>Whether a receiver may be on this machine, at any port but our own.</summary>
    public bool ThisMachine { get; init; }

    /// <summary>The TCP ports on which the service itself listens now: never a receiver's.</summary>
    public Func<IReadOnlyCollection<int>> OwnPorts { get; init; } = static () => [];

    /// <summary>Finds the addresses of a name.</summary>
    public Func<string, CancellationToken, Task<IPAddress[]>> Resolve { get; init; } = Dns.GetHostAddressesAsync;
}

/// <summary>Why nothing is sent to an address.</summary>
public enum ForbiddenPlace
{
    /// <summary>It is this machine: loopback, unspecified, or an address of one of its interfaces.</summary>
    ThisMachine = 1,

    /// <summary>It is a port on which the service itself listens.</summary>
    OwnPort = 2,

    /// <summary>It means something on this link alone, or is nobody's: link-local, multicast, reserved.</summary>
    Link = 3,

    /// <summary>It is in a private network that the owner did not allow.</summary>
    Private = 4,
}

/// <summary>The name of a receiver leads to an address to which nothing may be sent. Names no address.</summary>
public sealed class ForbiddenAddressException(ForbiddenPlace place) : IOException("The address is not one to which notices may be sent: " + place + ".")
{
    /// <summary>Why.</summary>
    public ForbiddenPlace Place { get; } = place;

    /// <summary>The reason in the outbox and on the page.</summary>
    public Reason Because { get; } = Reason.Of(place switch
    {
        ForbiddenPlace.ThisMachine => "outgoing-this-machine",
        ForbiddenPlace.OwnPort => "outgoing-own-port",
        ForbiddenPlace.Private => "outgoing-private",
        _ => "outgoing-link",
    });
}
