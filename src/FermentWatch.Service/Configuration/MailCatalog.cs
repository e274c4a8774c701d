using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Configuration;

/// <summary>E-mail as a channel for notices.</summary>
internal static class MailCatalog
{
    private static readonly Dictionary<string, MailSecurity> Securities = new(StringComparer.OrdinalIgnoreCase)
    {
        ["tls"] = MailSecurity.Tls,
        ["starttls"] = MailSecurity.StartTls,
        ["none"] = MailSecurity.None,
    };

    public static Setting<string?> Host { get; } = new()
    {
        Key = "Mail:Host",
        Meaning = "Mail server (SMTP) through which notices are sent by e-mail.",
        DefaultText = "none: no e-mail is sent",
        Allowed = "a host name or an IP address, without a port",
        Example = "mail.example.org",
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Host),
    };

    public static Setting<int?> Port { get; } = new()
    {
        Key = "Mail:Port",
        Meaning = "Port of the mail server.",
        DefaultText = "465 with tls, 587 with starttls, 25 with none",
        Allowed = "a whole number from 1 to 65535",
        Example = "587",
        Default = () => null,
        Read = SettingReaders.Optional(SettingReaders.Whole(1, 65535)),
    };

    public static Setting<MailSecurity> Security { get; } = new()
    {
        Key = "Mail:Security",
        Meaning = "How the way to the mail server is encrypted: from the first byte, by STARTTLS, or not at all.",
        DefaultText = "tls",
        Allowed = "'tls', 'starttls' or 'none'",
        Example = "starttls",
        Default = () => MailSecurity.Tls,
        Read = SettingReaders.Word<MailSecurity>(Securities),
    };

    public static Setting<string?> User { get; } = new()
    {
        Key = "Mail:User",
        Meaning = "User name at the mail server.",
        DefaultText = "none: no sign-in",
        Allowed = "1 to 200 characters on one line",
        Example = "cellar@example.org",
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Text(1, 200)),
    };

    public static Setting<string?> Password { get; } = new()
    {
        Key = "Mail:Password",
        Meaning = "Password of that user. Better in Mail:PasswordFile or the environment than here.",
        DefaultText = "none",
        Allowed = "1 to 1000 characters on one line",
        Example = "a passphrase of your own",
        Secret = true,
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Text(1, 1000)),
    };

    public static Setting<string?> PasswordFile { get; } = new()
    {
        Key = "Mail:PasswordFile",
        Meaning = "File whose first line is the password; a relative path begins at the data directory.",
        DefaultText = "none",
        Allowed = "the path of a file that can be read",
        Example = "/etc/fermentwatch/mail-password",
        Default = () => null,
        Read = SettingReaders.OptionalText(SettingReaders.Text(1, 1000)),
    };

    public static Setting<string?> From { get; } = new()
    {
        Key = "Mail:From",
        Meaning = "Address of the sender.",
        DefaultText = "none: needed with Mail:Host",
        Allowed = "one e-mail address, such as cellar@example.org",
        Example = "cellar@example.org",
        Default = () => null,
        Read = SettingReaders.OptionalText<string>(MailReading.Address),
    };

    public static Setting<ValueList<string>?> To { get; } = new()
    {
        Key = "Mail:To",
        Meaning = "Who gets every notice.",
        DefaultText = "none: needed with Mail:Host",
        Allowed = "1 to 20 e-mail addresses, separated by commas",
        Example = "maker@example.org,taster@example.org",
        Default = () => null,
        Read = SettingReaders.OptionalText<ValueList<string>>(MailReading.Addresses),
    };
}
