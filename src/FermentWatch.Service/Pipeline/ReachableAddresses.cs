using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;

namespace FermentWatch.Service.Pipeline;

/// <summary>Under which addresses others on the network reach this machine.</summary>
public static class ReachableAddresses
{
    /// <summary>The hosts to name for something that listens on an address: of 0.0.0.0 and :: the machine's own addresses, those of a network with a way out first; its name where it has none.</summary>
    public static IReadOnlyList<string> Of(IPAddress listening)
    {
        ArgumentNullException.ThrowIfNull(listening);
        if (!listening.Equals(IPAddress.Any) && !listening.Equals(IPAddress.IPv6Any))
        {
            return [listening.ToString()];
        }

        var own = NetworkInterface.GetAllNetworkInterfaces()
            .Where(card => card.OperationalStatus == OperationalStatus.Up && card.NetworkInterfaceType != NetworkInterfaceType.Loopback)
            .Select(card => card.GetIPProperties())
            .OrderByDescending(card => card.GatewayAddresses.Count > 0)
            .SelectMany(card => card.UnicastAddresses)
            .Select(unicast => unicast.Address)
            .Where(address => address.AddressFamily == AddressFamily.InterNetwork && !IPAddress.IsLoopback(address) && !IsLinkLocal(address))
            .Select(address => address.ToString())
            .Distinct()
            .ToList();
        return own.Count > 0 ? own : [Dns.GetHostName()];
    }

    // 169.254.0.0/16 (RFC 3927): a card that got no address.
    private static bool IsLinkLocal(IPAddress address) => address.GetAddressBytes() is [169, 254, ..];
}
