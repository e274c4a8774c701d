using System.Net;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Access;

/// <summary>Page and embedded broker listen beyond this machine only once somebody has a password.</summary>
public static class ListeningRule
{
    /// <summary>Why the service must not listen as its settings say; null when it may.</summary>
    public static string? Refusal(ServiceSettings settings, Store store)
    {
        ArgumentNullException.ThrowIfNull(settings);
        ArgumentNullException.ThrowIfNull(store);
        if (store.ReadPeople().Any(person => person.HasPassword))
        {
            return null;
        }

        if (settings.Page.TrustedProxies.Count > 0)
        {
            return $"Page:TrustedProxies is '{string.Join(", ", settings.Page.TrustedProxies)}', and a proxy lets others reach the page, but nobody has a password yet. "
                + "Start once without it, open the page on this machine at /setup, set a password with the code that the console prints, and start again.";
        }

        var (key, value, right) = !settings.Page.Address.IsLoopback
            ? ("Page:Address", settings.Page.Address.ToString(), "http://127.0.0.1:5080")
            : settings.Broker.Mode == BrokerMode.Embedded && !IPAddress.IsLoopback(settings.Broker.Embedded.Address)
                ? ("Broker:Embedded:Address", settings.Broker.Embedded.Address.ToString(), "127.0.0.1")
                : ("", "", "");
        return key.Length == 0
            ? null
            : $"{key} is '{value}', which others on the network can reach, but nobody has a password yet. "
            + $"Start once with '{right}', open the page on this machine at /setup, set a password with the code that the console prints, and start again.";
    }
}
