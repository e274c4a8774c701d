using System.Net;

namespace FermentWatch.Service.Configuration;

/// <summary>Where the messages come from.</summary>
internal static class BrokerCatalog
{
    public static Setting<BrokerMode> Mode { get; } = new()
    {
        Key = "Broker:Mode",
        Meaning = "Which MQTT broker: the one inside the service, or one that runs elsewhere.",
        DefaultText = "embedded",
        Allowed = "'embedded' or 'external'",
        Example = "external",
        Default = () => BrokerMode.Embedded,
        Read = SettingReaders.Word(SettingWords.Modes),
    };

    public static Setting<bool> Notices { get; } = new()
    {
        Key = "Broker:Notices",
        Meaning = "Whether notices are published at the broker too, below fermentwatch/notices, so that other programs can act on them. Whoever may subscribe there reads them.",
        DefaultText = "false",
        Allowed = "'true' or 'false'",
        Example = "true",
        Default = () => false,
        Read = SettingReaders.YesOrNo(),
    };

    public static Setting<IPAddress> EmbeddedAddress { get; } = new()
    {
        Key = "Broker:Embedded:Address",
        Meaning = "Address on which the embedded broker listens.",
        DefaultText = "127.0.0.1",
        Allowed = "an IP address; beyond this machine (such as 0.0.0.0) only once somebody has a password, and then for devices with a name alone",
        Example = "127.0.0.1",
        Default = () => IPAddress.Loopback,
        Read = SettingReaders.BrokerAddress,
    };

    public static Setting<int> EmbeddedPort { get; } = new()
    {
        Key = "Broker:Embedded:Port",
        Meaning = "TCP port of the embedded broker.",
        DefaultText = "1883",
        Allowed = "a whole number from 1 to 65535",
        Example = "1883",
        Default = () => 1883,
        Read = SettingReaders.Whole(1, 65535),
    };

    public static Setting<string?> EmbeddedCertificateFile { get; } = new()
    {
        Key = "Broker:Embedded:CertificateFile",
        Meaning = "Certificate with which the embedded broker takes encrypted connections too, as PEM or PFX; a relative path begins at the data directory.",
        DefaultText = "none: no encrypted connections",
        Allowed = "the path of a file with a certificate and its private key",
        Example = "broker.pem",
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Text(1, 1000)),
    };

    public static Setting<string?> EmbeddedKeyFile { get; } = new()
    {
        Key = "Broker:Embedded:KeyFile",
        Meaning = "PEM file of the certificate's private key, where it does not stand in the certificate's file.",
        DefaultText = "none: the key stands in the certificate's file",
        Allowed = "the path of a PEM file that can be read",
        Example = "broker.key",
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Text(1, 1000)),
    };

    public static Setting<string?> EmbeddedKeyPasswordFile { get; } = new()
    {
        Key = "Broker:Embedded:KeyPasswordFile",
        Meaning = "File whose first line is the password of the PFX file or of the key; a relative path begins at the data directory.",
        DefaultText = "none",
        Allowed = "the path of a file that can be read",
        Example = "/etc/fermentwatch/key-password",
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Text(1, 1000)),
    };

    public static Setting<int> EmbeddedTlsPort { get; } = new()
    {
        Key = "Broker:Embedded:TlsPort",
        Meaning = "TCP port of the embedded broker's encrypted connections.",
        DefaultText = "8883",
        Allowed = "a whole number from 1 to 65535, another one than Broker:Embedded:Port",
        Example = "8883",
        Default = () => 8883,
        Read = SettingReaders.Whole(1, 65535),
    };

    public static Setting<string?> ExternalHost { get; } = new()
    {
        Key = "Broker:External:Host",
        Meaning = "Host of the external broker; needed with Broker:Mode external.",
        DefaultText = "none",
        Allowed = "a host name or an IP address",
        Example = "broker.example.org",
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Host),
    };

    public static Setting<int?> ExternalPort { get; } = new()
    {
        Key = "Broker:External:Port",
        Meaning = "TCP port of the external broker.",
        DefaultText = "1883, with TLS 8883",
        Allowed = "a whole number from 1 to 65535",
        Example = "8883",
        Default = () => null,
        Read = SettingReaders.Optional(SettingReaders.Whole(1, 65535)),
    };

    public static Setting<string?> ExternalUser { get; } = new()
    {
        Key = "Broker:External:User",
        Meaning = "User name at the external broker.",
        DefaultText = "none",
        Allowed = "1 to 200 characters on one line",
        Example = "fermentwatch",
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Text(1, 200)),
    };

    public static Setting<string?> ExternalPassword { get; } = new()
    {
        Key = "Broker:External:Password",
        Meaning = "Password of that user. Better in Broker:External:PasswordFile or the environment than here.",
        DefaultText = "none",
        Allowed = "1 to 1000 characters on one line",
        Example = "a passphrase of your own",
        Secret = true,
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Text(1, 1000)),
    };

    public static Setting<string?> ExternalPasswordFile { get; } = new()
    {
        Key = "Broker:External:PasswordFile",
        Meaning = "File whose first line is the password; a relative path begins at the data directory.",
        DefaultText = "none",
        Allowed = "the path of a file that can be read",
        Example = "/etc/fermentwatch/broker-password",
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Text(1, 1000)),
    };

    public static Setting<bool> ExternalTls { get; } = new()
    {
        Key = "Broker:External:Tls",
        Meaning = "Whether to encrypt the way to the external broker.",
        DefaultText = "false",
        Allowed = "'true' or 'false'",
        Example = "true",
        Default = () => false,
        Read = SettingReaders.YesOrNo(),
    };

    public static Setting<string?> ExternalAuthorityFile { get; } = new()
    {
        Key = "Broker:External:CaFile",
        Meaning = "PEM file of the certificate authority that signed the broker's certificate; a relative path begins at the data directory.",
        DefaultText = "none: the system's authorities are trusted",
        Allowed = "the path of a PEM file that can be read",
        Example = "cellar-authority.pem",
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Text(1, 1000)),
    };

    public static Setting<string?> ExternalClientId { get; } = new()
    {
        Key = "Broker:External:ClientId",
        Meaning = "Name under which the broker keeps messages while the service is away; no other client may use it.",
        DefaultText = "made at the first start and kept in the database",
        Allowed = "1 to 200 characters on one line; some brokers take only up to 23 letters and digits",
        Example = "fermentwatch-attic",
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Text(1, 200)),
    };
}
