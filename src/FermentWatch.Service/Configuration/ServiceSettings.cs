using System.Net;
using FermentWatch.Infrastructure.Influx;
using FermentWatch.Infrastructure.Mqtt;
using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Monitoring.Alerting;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Care;

namespace FermentWatch.Service.Configuration;

/// <summary>Everything that can be set from outside, checked. What each setting means and allows stands in <see cref="SettingCatalog"/>.</summary>
/// <param name="DataDirectory">Directory of the database and the configuration file; absolute.</param>
/// <param name="ConfigurationFile">The file that was read, or null when there is none.</param>
/// <param name="Page">The pages.</param>
/// <param name="Broker">Where the messages come from.</param>
/// <param name="Topics">Which messages are readings; each entry that matches a message is applied, so that one message may hold several sensors.</param>
/// <param name="Batches">The maker's batches; each id once, no sensor in two at a time.</param>
/// <param name="Relay">The push relay for notices, or null when none is set up.</param>
/// <param name="Alerts">Figures of the alerts.</param>
/// <param name="Retention">How long raw messages are kept.</param>
public sealed record ServiceSettings(
    string DataDirectory,
    string? ConfigurationFile,
    PageSettings Page,
    BrokerSettings Broker,
    ValueList<TopicMapping> Topics,
    ValueList<Batch> Batches,
    RelayChannel? Relay,
    AlertFigures Alerts,
    RetentionSettings Retention)
{
    /// <summary>Where notices may be sent by HTTP besides the public internet.</summary>
    public OutgoingPlaces Outgoing { get; init; } = OutgoingPlaces.Public;

    /// <summary>Whether notices are published at the broker too.</summary>
    public bool BrokerNotices { get; init; }

    /// <summary>E-mail for notices, or null when none is set up.</summary>
    public MailSettings? Mail { get; init; }

    /// <summary>Where the series are copied to, or null when nowhere.</summary>
    public InfluxSettings? Influx { get; init; }

    /// <summary>Where backups go and how often.</summary>
    public required BackupSettings Backup { get; init; }

    /// <summary>Token of the metrics; null gives none. Never printed.</summary>
    public string? MetricsToken { get; init; }

    /// <summary>Under which word phases and forecasts are told at the broker; null tells none.</summary>
    public StateSettings? States { get; init; }

    /// <summary>Whether the log is written as JSON.</summary>
    public bool LogAsJson { get; init; }

    /// <summary>What was given, in the order of its keys, without secrets.</summary>
    public IReadOnlyList<GivenSetting> Given { get; init; } = [];

    /// <summary>The secrets among what was given. Never printed: they are here to be looked for.</summary>
    public IReadOnlyList<string> Secrets { get; init; } = [];
}

/// <summary>Telling states at the broker.</summary>
/// <param name="Site">The word that tells services at one broker apart.</param>
public sealed record StateSettings(string Site);

/// <summary>A setting that was given.</summary>
/// <param name="Key">Its key.</param>
/// <param name="Value">What was given; null where it is secret or somebody's name or address.</param>
/// <param name="Origin">Where it was given.</param>
public sealed record GivenSetting(string Key, string? Value, string Origin);

/// <summary>The pages.</summary>
/// <param name="Address">Where they listen: http, an address, a port (0 lets the system choose).</param>
/// <param name="PathBase">Path under which a proxy shows them: empty, or beginning with '/' and not ending with it.</param>
/// <param name="BaseUrl">Their address as others reach it, for links in notices; null leaves links out.</param>
/// <param name="Zone">Zone in which times are shown.</param>
/// <param name="CellarName">The maker's name for the place; empty shows none.</param>
public sealed record PageSettings(Uri Address, string PathBase, Uri? BaseUrl, TimeZoneInfo Zone, string CellarName)
{
    /// <summary>Proxies whose word on who they speak for is believed; empty for none.</summary>
    public ValueList<IPNetwork> TrustedProxies { get; init; } = ValueList.Of<IPNetwork>();

    /// <summary>Whether nobody else can open the pages: a proxy that is named may let others reach a page that listens on loopback.</summary>
    public bool IsForThisMachineAlone => Address.IsLoopback && TrustedProxies.Count == 0;
}

/// <summary>Which broker.</summary>
public enum BrokerMode
{
    /// <summary>The one inside the service.</summary>
    Embedded = 1,

    /// <summary>One that runs elsewhere.</summary>
    External = 2,
}

/// <summary>Where the messages come from.</summary>
/// <param name="Mode">Which broker.</param>
/// <param name="Embedded">How the embedded one listens.</param>
/// <param name="External">How to reach the external one; null in embedded mode.</param>
public sealed record BrokerSettings(BrokerMode Mode, EmbeddedBrokerSettings Embedded, ExternalBrokerSettings? External)
{
    /// <summary>True when the configuration itself names the broker: the page then cannot change it.</summary>
    public bool IsGiven { get; init; }
}

/// <summary>How the embedded broker listens.</summary>
/// <param name="Address">Beyond loopback only once somebody has a password.</param>
/// <param name="Port">TCP port, 1 to 65535.</param>
public sealed record EmbeddedBrokerSettings(IPAddress Address, int Port)
{
    /// <summary>Certificate for encrypted connections; null offers none.</summary>
    public BrokerCertificate? Certificate { get; init; }

    /// <summary>TCP port of encrypted connections, 1 to 65535.</summary>
    public int TlsPort { get; init; } = 8883;
}

/// <summary>How to reach a broker that runs elsewhere.</summary>
/// <param name="Host">Name or address.</param>
/// <param name="Port">TCP port, 1 to 65535.</param>
/// <param name="User">User name, or null.</param>
/// <param name="Password">Its password, from the setting or the file; null for none. Never printed.</param>
/// <param name="UseTls">Whether to encrypt.</param>
/// <param name="AuthorityFile">PEM file of the certificate authority, absolute; null trusts those of the system.</param>
/// <param name="ClientId">Our name at the broker; null takes the one that the database keeps.</param>
public sealed record ExternalBrokerSettings(
    string Host,
    int Port,
    string? User,
    string? Password,
    bool UseTls,
    string? AuthorityFile,
    string? ClientId)
{
    /// <summary>PEM text of the certificate authority, where it was typed rather than kept in a file; null for none.</summary>
    public string? AuthorityText { get; init; }

    /// <summary>Without the password.</summary>
    public override string ToString() => $"{Host}:{Port}";
}

/// <summary>A push relay that takes notices by HTTP.</summary>
/// <param name="Url">Topic address, http or https. Who knows it may read the notices, so it is never printed.</param>
/// <param name="Token">Bearer token, or null. Never printed.</param>
/// <param name="Template">JSON body with places for the notice, or null for the default body.</param>
/// <param name="Priorities">What stands for the priority of silent, normal, important and urgent notices, in this order; null for the default words.</param>
public sealed record RelayChannel(Uri Url, string? Token, string? Template, ValueList<string>? Priorities)
{
    /// <summary>The host alone.</summary>
    public override string ToString() => Url.Host;
}

/// <summary>Figures of the alerts.</summary>
/// <param name="QuietFrom">Begin of the quiet hours, wall clock of the zone.</param>
/// <param name="QuietUntil">Their end; equal to the begin for none.</param>
/// <param name="TemperatureIntervals">Intervals without a temperature that count as silence.</param>
/// <param name="TemperatureAtLeast">Shortest silence of a temperature that counts.</param>
/// <param name="GravityIntervals">Intervals without a gravity that count as silence.</param>
/// <param name="GravityAtLeast">Shortest silence of a gravity that counts.</param>
public sealed record AlertFigures(
    TimeOnly QuietFrom,
    TimeOnly QuietUntil,
    double TemperatureIntervals,
    TimeSpan TemperatureAtLeast,
    double GravityIntervals,
    TimeSpan GravityAtLeast)
{
    /// <summary>How long a notice waits for others about the same batch.</summary>
    public TimeSpan GroupWait { get; init; } = AlertSettings.Default.GroupWait;

    /// <summary>Address of a watcher outside of the house; null for none.</summary>
    public WatcherAddress? Heartbeat { get; init; }
}

/// <summary>Address of a watcher outside of the house: a secret, so only its host is ever written.</summary>
public sealed record WatcherAddress(Uri Url)
{
    /// <summary>The host alone.</summary>
    public override string ToString() => Url.Host;
}

/// <summary>How long raw messages are kept; whichever limit is reached first. Readings are kept for good.</summary>
/// <param name="InboxDays">Days.</param>
/// <param name="InboxMegabytes">Size of the raw messages, in MB of 1,000,000 bytes.</param>
public sealed record RetentionSettings(int InboxDays, int InboxMegabytes);
