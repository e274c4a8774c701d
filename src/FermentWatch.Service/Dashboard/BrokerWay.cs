using System.Net;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Pipeline;

namespace FermentWatch.Service.Dashboard;

/// <summary>Where sensors send to, as the pages tell it.</summary>
/// <param name="Hosts">Names or addresses, any of which will do; the likeliest first.</param>
/// <param name="Port">TCP port.</param>
/// <param name="IsThisMachineOnly">True when only programs on this machine reach it.</param>
public sealed record BrokerWay(IReadOnlyList<string> Hosts, int Port, bool IsThisMachineOnly)
{
    /// <summary>TCP port of our own broker's encrypted connections; null where it takes none.</summary>
    public int? TlsPort { get; init; }

    /// <summary>The likeliest host.</summary>
    public string Host => Hosts[0];

    /// <summary>All hosts, for a sentence.</summary>
    public string AnyHost => string.Join(" or ", Hosts);

    /// <summary>The way to the broker that holds.</summary>
    public static BrokerWay Of(BrokerSettings settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        return settings.External is { } external
            ? new BrokerWay([external.Host], external.Port, IsThisMachineOnly: false)
            : new BrokerWay(ReachableAddresses.Of(settings.Embedded.Address), settings.Embedded.Port, IPAddress.IsLoopback(settings.Embedded.Address))
            {
                TlsPort = settings.Embedded.Certificate is null ? null : settings.Embedded.TlsPort,
            };
    }
}
