using System.Net;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Configuration;

/// <summary>The pages.</summary>
internal static class PageCatalog
{
    public static Setting<Uri> PageAddress { get; } = new()
    {
        Key = "Page:Address",
        Meaning = "Where the pages listen.",
        DefaultText = "http://127.0.0.1:5080",
        Allowed = "http://, an IP address or localhost, and a port from 0 to 65535; port 0 lets the system choose. Beyond this machine (such as 0.0.0.0) only once somebody has a password",
        Example = "http://127.0.0.1:5080",
        Default = () => new Uri("http://127.0.0.1:5080"),
        Read = SettingReaders.PageAddress,
    };

    public static Setting<string> PagePathBase { get; } = new()
    {
        Key = "Page:PathBase",
        Meaning = "Path under which a proxy shows the pages.",
        DefaultText = "empty",
        Allowed = "nothing, or a path that begins with '/' and does not end with it, of letters, digits and -._~, at most 200 characters",
        Example = "/cellar",
        Default = () => string.Empty,
        Read = SettingReaders.PathBase,
    };

    public static Setting<ValueList<IPNetwork>> PageTrustedProxies { get; } = new()
    {
        Key = "Page:TrustedProxies",
        Meaning = "Proxies that are believed when they say, by X-Forwarded-For and X-Forwarded-Proto, for whom they speak. Each must replace or extend what a visitor sent there.",
        DefaultText = "none: those headers are ignored",
        Allowed = "up to 20 IP addresses or networks, joined by commas; only once somebody has a password",
        Example = "127.0.0.1, 192.168.1.0/28",
        Default = () => ValueList.Of<IPNetwork>(),
        Read = SettingReaders.Networks,
    };

    public static Setting<Uri?> PageBaseUrl { get; } = new()
    {
        Key = "Page:BaseUrl",
        Meaning = "Address of the pages as other devices reach it; links in notices begin with it.",
        DefaultText = "none: notices carry no link",
        Allowed = "an http:// or https:// address without user name and fragment",
        Example = "https://cellar.example.org/",
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.WebAddress),
    };

    public static Setting<TimeZoneInfo> PageZone { get; } = new()
    {
        Key = "Page:Zone",
        Meaning = "Time zone in which times are shown and quiet hours are meant.",
        DefaultText = "the system's zone",
        Allowed = "a zone by its IANA name",
        Example = "Europe/Berlin",
        Default = () => TimeZoneInfo.Local,
        Read = SettingReaders.Zone,
    };

    public static Setting<string> PageCellarName { get; } = new()
    {
        Key = "Page:CellarName",
        Meaning = "Your name for the place, shown on top of the pages.",
        DefaultText = "empty",
        Allowed = "at most 80 characters on one line",
        Example = "Attic cellar",
        Default = () => string.Empty,
        Read = SettingReaders.Text(0, 80),
    };
}
