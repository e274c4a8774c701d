using System.Net;
using System.Net.Sockets;

namespace FermentWatch.System.Tests.Mqtt;

internal static class FreePort
{
    /// <summary>A port of the loopback address that nobody uses now.</summary>
    public static int Take()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
