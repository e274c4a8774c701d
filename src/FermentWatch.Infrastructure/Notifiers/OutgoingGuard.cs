using System.Net;
using System.Net.Sockets;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>The name of a relay leads to an address to which nobody but the owner of this machine may send.</summary>
public sealed class ForbiddenAddressException() : IOException("The address is one of this machine, or of this link alone.");

/// <summary>Connects to where a listener's own relay is, and nowhere on this machine: what it runs for itself is no listener's business.</summary>
internal static class OutgoingGuard
{
    /// <summary>Resolves the name once and connects to what it found, so that a second answer cannot lead elsewhere.</summary>
    /// <exception cref="ForbiddenAddressException">The name leads to this machine or to a link-local address.</exception>
    public static async ValueTask<Stream> ConnectAsync(DnsEndPoint end, CancellationToken cancellationToken)
    {
        var addresses = IPAddress.TryParse(end.Host, out var literal) ? [literal] : await Dns.GetHostAddressesAsync(end.Host, cancellationToken).ConfigureAwait(false);
        if (addresses.Any(IsForbidden))
        {
            throw new ForbiddenAddressException();
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

    /// <summary>Loopback (127.0.0.0/8, ::1), unspecified (0.0.0.0/8, ::), link-local (169.254.0.0/16, fe80::/10) and multicast addresses: RFC 6890.</summary>
    internal static bool IsForbidden(IPAddress address)
    {
        address = address.IsIPv4MappedToIPv6 ? address.MapToIPv4() : address;
        var bytes = address.GetAddressBytes();
        return IPAddress.IsLoopback(address) || (address.AddressFamily == AddressFamily.InterNetwork
            ? bytes[0] is 0 or >= 224 || (bytes[0] == 169 && bytes[1] == 254)
            : address.IsIPv6LinkLocal || address.IsIPv6Multicast || address.Equals(IPAddress.IPv6Any));
    }
}
