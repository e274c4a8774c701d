namespace FermentWatch.Service.Dashboard;

/// <summary>Settings of the pages.</summary>
public sealed record DashboardOptions
{
    /// <summary>Path under which a proxy shows the pages, such as <c>/cellar</c>; empty at the root.</summary>
    public string PathBase { get; init; } = "";

    /// <summary>Zone in which times are shown.</summary>
    public TimeZoneInfo Zone { get; init; } = TimeZoneInfo.Utc;

    /// <summary>The maker's name for the place; empty shows none.</summary>
    public string CellarName { get; init; } = "";

    /// <summary>Host to which sensors send, as told on the page for connecting one.</summary>
    public string BrokerHost { get; init; } = "localhost";

    /// <summary>Port to which sensors send.</summary>
    public int BrokerPort { get; init; } = 1883;

    /// <summary>Path of the configuration file, as told on the page for connecting a sensor; null when the service runs without one.</summary>
    public string? ConfigurationFile { get; init; }

    /// <summary>Directory of the keys that protect forms and sign-ins, so that they outlive a restart; null keeps them in memory.</summary>
    public string? KeyDirectory { get; init; }

    /// <summary>Age from which a page says that nothing was computed since. On the service's own clock: the demo's runs faster.</summary>
    public TimeSpan StaleAfter { get; init; } = TimeSpan.FromMinutes(10);

    /// <summary>How often an idle event stream says that it lives; 5 s to 60 s.</summary>
    public TimeSpan PingInterval { get; init; } = TimeSpan.FromSeconds(25);
}
