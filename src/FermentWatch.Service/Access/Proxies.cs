using System.Net;
using FermentWatch.Service.Configuration;
using Microsoft.AspNetCore.HttpOverrides;

namespace FermentWatch.Service.Access;

/// <summary>Who a request comes from when a proxy hands it over, and whether it comes from this machine at all.</summary>
/// <remarks>
/// A proxy on this machine makes every visitor look local. So its word on who it speaks for counts only when the settings name it, and
/// as long as nobody has a password, a request that shows any trace of a proxy is a stranger's.
/// </remarks>
internal static class Proxies
{
    // RFC 7239, RFC 9110 section 7.6.3, and the names in common use; those that begin with X-Original are written by the host when it takes one of them.
    private static readonly string[] Traces =
        ["Forwarded", "Via", "X-Forwarded-For", "X-Forwarded-Host", "X-Forwarded-Proto", "X-Original-For", "X-Original-Proto", "X-Real-IP"];

    /// <summary>Takes the word of the proxies that the settings name, of the nearest alone: what stands further left anybody can write.</summary>
    public static void UseProxies(this WebApplication app, PageSettings page)
    {
        if (page.TrustedProxies.Count == 0)
        {
            return;
        }

        var options = new ForwardedHeadersOptions { ForwardedHeaders = ForwardedHeaders.XForwardedFor | ForwardedHeaders.XForwardedProto, ForwardLimit = 1 };
        // Loopback is among them unless it is taken out.
        options.KnownProxies.Clear();
        options.KnownIPNetworks.Clear();
        foreach (var network in page.TrustedProxies)
        {
            options.KnownIPNetworks.Add(network);
        }

        app.UseForwardedHeaders(options);
    }

    /// <summary>Whether somebody at this machine sent it: from loopback, to a name of loopback, through nothing. A page elsewhere that
    /// had its name lead here is told by the name.</summary>
    public static bool IsFromThisMachine(HttpContext context)
    {
        var request = context.Request;
        var origin = request.Headers.Origin.ToString();
        return (context.Connection.RemoteIpAddress is not { } address || IPAddress.IsLoopback(address))
            && !Array.Exists(Traces, request.Headers.ContainsKey)
            && IsLoopbackName(request.Host.Host)
            && (origin.Length == 0 || origin == "null" || (Uri.TryCreate(origin, UriKind.Absolute, out var page) && IsLoopbackName(page.Host)));
    }

    /// <summary>Whether a proxy spoke for somebody and was not believed.</summary>
    public static bool IsUnbelieved(HttpContext context) =>
        context.Request.Headers.ContainsKey("X-Forwarded-For") && !context.Request.Headers.ContainsKey("X-Original-For");

    private static bool IsLoopbackName(string host) =>
        host.Equals("localhost", StringComparison.OrdinalIgnoreCase)
        || host.EndsWith(".localhost", StringComparison.OrdinalIgnoreCase)
        || (IPAddress.TryParse(host.Trim('[', ']'), out var address) && IPAddress.IsLoopback(address));
}
