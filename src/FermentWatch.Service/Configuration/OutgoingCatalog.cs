using System.Net;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Configuration;

/// <summary>Where notices may be sent by HTTP.</summary>
/// <param name="Networks">Private networks that are allowed.</param>
/// <param name="ThisMachine">Whether a receiver may be on this machine, at any port but the service's own.</param>
public sealed record OutgoingPlaces(ValueList<IPNetwork> Networks, bool ThisMachine)
{
    /// <summary>The public internet alone.</summary>
    public static OutgoingPlaces Public { get; } = new(ValueList.Of<IPNetwork>(), ThisMachine: false);
}

/// <summary>Where notices may be sent.</summary>
internal static class OutgoingCatalog
{
    private const string ThisMachine = "this-machine";
    private const string Private = "private";

    public static Setting<OutgoingPlaces> Places { get; } = new()
    {
        Key = "Outgoing:Networks",
        Meaning = "Where relays, webhooks and push services may be besides the public internet. 'private' stands for all private networks, 'this-machine' for this computer, which only makers' channels may then reach, never at a port of FermentWatch.",
        DefaultText = "none: the public internet alone",
        Allowed = "up to 20 of 'private', 'this-machine', and private IP addresses or networks, joined by commas",
        Example = "192.168.1.0/24, this-machine",
        Default = () => OutgoingPlaces.Public,
        Read = Read,
    };

    private static Parsed<OutgoingPlaces> Read(string text)
    {
        var parts = text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        var others = parts.Where(part => part is not (ThisMachine or Private)).ToList();
        var named = others.Count == 0 ? new(true, ValueList.Of<IPNetwork>()) : SettingReaders.Networks(string.Join(',', others));
        if (!named.Ok || parts.Length is 0 or > 20)
        {
            return new(false, null, named.Because);
        }

        if (named.Value!.Where(network => !OutgoingRules.PrivateNetworks.Any(one => one.Contains(network.BaseAddress) && one.PrefixLength <= network.PrefixLength)).ToList() is [var stranger, ..])
        {
            return new(false, null, $"'{stranger}' is no private network: public addresses need no leave, and those of one machine or one link never get it.");
        }

        var all = parts.Contains(Private) ? OutgoingRules.PrivateNetworks : named.Value!;
        return new(true, new OutgoingPlaces(ValueList.Of<IPNetwork>(all), parts.Contains(ThisMachine)));
    }
}
