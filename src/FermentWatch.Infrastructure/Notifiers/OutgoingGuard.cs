using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>Opens the connections of every HTTP channel: to where the rules let notices go, and nowhere else.</summary>
internal static class OutgoingGuard
{
    // RFC 6052: the well-known prefix under which a translator reaches IPv4 addresses. RFC 3056: the prefix of 6to4.
    private static readonly IPNetwork Translated = IPNetwork.Parse("64:ff9b::/96");
    private static readonly IPNetwork SixToFour = IPNetwork.Parse("2002::/16");

    // RFC 6890, table by table: what is not globally reachable and belongs to no private network.
    private static readonly IPNetwork[] Nobodys =
    [
        IPNetwork.Parse("169.254.0.0/16"), IPNetwork.Parse("192.0.0.0/24"), IPNetwork.Parse("198.18.0.0/15"), IPNetwork.Parse("224.0.0.0/4"),
        IPNetwork.Parse("240.0.0.0/4"), IPNetwork.Parse("fe80::/10"), IPNetwork.Parse("fec0::/10"), IPNetwork.Parse("ff00::/8"), IPNetwork.Parse("100::/64"),
    ];

    private static readonly IPNetwork Unspecified = IPNetwork.Parse("0.0.0.0/8");

    /// <summary>Resolves the name once and connects to what it found, so that a second answer cannot lead elsewhere.</summary>
    /// <exception cref="ForbiddenAddressException">One of the addresses is forbidden: no connection was tried.</exception>
    public static async ValueTask<Stream> ConnectAsync(DnsEndPoint end, OutgoingRules rules, CancellationToken cancellationToken)
    {
        var addresses = IPAddress.TryParse(end.Host, out var literal) ? [literal] : await rules.Resolve(end.Host, cancellationToken).ConfigureAwait(false);
        var own = OwnAddresses();
        foreach (var address in addresses)
        {
            if (PlaceOf(address, end.Port, rules, own) is { } place)
            {
                throw new ForbiddenAddressException(place);
            }
        }

        var socket = new Socket(SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
        try
        {
            await socket.ConnectAsync(addresses, end.Port, cancellationToken).ConfigureAwait(false);
            return new NetworkStream(socket, ownsSocket: true);
        }
        catch
        {
            socket.Dispose();
            throw;
        }
    }

    /// <summary>Why nothing may be sent to an address; null when it may.</summary>
    internal static ForbiddenPlace? PlaceOf(IPAddress address, int port, OutgoingRules rules, IReadOnlySet<IPAddress> own)
    {
        var target = Plain(address);
        if (IPAddress.IsLoopback(target) || target.Equals(IPAddress.IPv6Any) || Unspecified.Contains(target) || own.Contains(target))
        {
            return rules.OwnPorts().Contains(port) ? ForbiddenPlace.OwnPort : rules.ThisMachine ? null : ForbiddenPlace.ThisMachine;
        }

        if (Nobodys.Any(network => network.Contains(target)))
        {
            return ForbiddenPlace.Link;
        }

        return OutgoingRules.PrivateNetworks.Any(network => network.Contains(target)) && !rules.Networks.Any(network => network.Contains(target)) ? ForbiddenPlace.Private : null;
    }

    /// <summary>The address that is reached in the end: IPv6 forms that stand for an IPv4 address, as that.</summary>
    private static IPAddress Plain(IPAddress address)
    {
        if (address.IsIPv4MappedToIPv6)
        {
            return address.MapToIPv4();
        }

        if (address.AddressFamily != AddressFamily.InterNetworkV6)
        {
            return address;
        }

        var bytes = address.GetAddressBytes();
        return Translated.Contains(address) ? new IPAddress(bytes[12..16])
            : SixToFour.Contains(address) ? new IPAddress(bytes[2..6])
            // The scope says through which interface, not to whom.
            : new IPAddress(bytes);
    }

    private static HashSet<IPAddress> OwnAddresses()
    {
        try
        {
            return [.. NetworkInterface.GetAllNetworkInterfaces()
                .SelectMany(one => one.GetIPProperties().UnicastAddresses)
                .Select(one => Plain(one.Address))];
        }
        catch (NetworkInformationException)
        {
            return [];
        }
    }
}
