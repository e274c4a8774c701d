using FermentWatch.Service.Configuration;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;

namespace FermentWatch.Service.Pipeline;

/// <summary>The TCP ports on which the service listens: no notice goes there, whatever is allowed.</summary>
public sealed class OwnPorts(IServer server, BrokerChoice broker, PageSettings page)
{
    /// <summary>Those of now.</summary>
    public IReadOnlyCollection<int> Now
    {
        get
        {
            var ports = new HashSet<int> { page.Address.Port };
            foreach (var address in server.Features.Get<IServerAddressesFeature>()?.Addresses ?? [])
            {
                ports.Add(BindingAddress.Parse(address).Port);
            }

            var settings = broker.Now;
            if (settings.Mode == BrokerMode.Embedded)
            {
                ports.Add(settings.Embedded.Port);
                ports.Add(settings.Embedded.TlsPort);
            }

            return ports;
        }
    }
}
