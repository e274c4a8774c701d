using FermentWatch.Infrastructure.Notifiers;
using FermentWatch.Monitoring.Telemetry;
using MimeKit;

namespace FermentWatch.Service.Configuration;

/// <summary>Reads the section Mail.</summary>
internal static class MailReading
{
    private const int MostAddresses = 20;

    public static Parsed<string> Address(string text) =>
        MailboxAddress.TryParse(text, out var mailbox) && mailbox.Address == text.Trim() && mailbox.Domain.Length > 0
            ? new(true, mailbox.Address)
            : new(false, null);

    public static Parsed<ValueList<string>> Addresses(string text)
    {
        var parts = text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        var wrong = parts.FirstOrDefault(part => !Address(part).Ok);
        return parts.Length is >= 1 and <= MostAddresses && wrong is null
            ? new(true, ValueList.Of<string>(parts))
            : new(false, null, wrong is null ? null : $"'{wrong}' is no address.");
    }

    public static MailSettings? Read(SettingValues values, string dataDirectory, List<string> warnings)
    {
        var host = values.Get(MailCatalog.Host);
        var port = values.Get(MailCatalog.Port);
        var security = values.Get(MailCatalog.Security);
        var user = values.Get(MailCatalog.User);
        var password = values.Get(MailCatalog.Password);
        var from = values.Get(MailCatalog.From);
        var to = values.Get(MailCatalog.To);
        if (values.Get(MailCatalog.PasswordFile) is { } file)
        {
            if (values.Has(MailCatalog.Password))
            {
                values.Add("Mail:Password and Mail:PasswordFile are both given: give one of them.");
            }

            password = FirstLine(values, Path.Combine(dataDirectory, file));
        }

        if (!values.Has(MailCatalog.Host))
        {
            Setting[] others = [MailCatalog.Port, MailCatalog.Security, MailCatalog.User, MailCatalog.Password, MailCatalog.PasswordFile, MailCatalog.From, MailCatalog.To];
            if (others.FirstOrDefault(other => values.Has(other)) is { } given)
            {
                values.Refuse(MailCatalog.Host, $"{given.Key} is given, so it is needed.");
            }

            return null;
        }

        foreach (var needed in (Setting[])[MailCatalog.From, MailCatalog.To])
        {
            if (!values.Has(needed))
            {
                values.Refuse(needed, "Mail:Host is given, so it is needed.");
            }
        }

        var passwordGiven = values.Has(MailCatalog.Password) || values.Has(MailCatalog.PasswordFile);
        if (passwordGiven != values.Has(MailCatalog.User))
        {
            values.Refuse(passwordGiven ? MailCatalog.User : MailCatalog.Password, passwordGiven ? "A password is given, so it is needed." : "Mail:User is given, so it is needed.");
        }

        if (passwordGiven && security == MailSecurity.None)
        {
            warnings.Add("Mail:Security is none: the password and the notices go over the network in the clear.");
        }

        return host is null || from is null || to is null
            ? null
            : new MailSettings(host, port ?? PortOf(security), security, from, to) { User = user, Password = password };
    }

    // Registered ports: submissions 465 (RFC 8314), submission 587 (RFC 6409), smtp 25 (RFC 5321).
    private static int PortOf(MailSecurity security) => security switch
    {
        MailSecurity.Tls => 465,
        MailSecurity.StartTls => 587,
        _ => 25,
    };

    private static string? FirstLine(SettingValues values, string path)
    {
        var (text, problem) = TextFile.Read(path);
        var line = text?.Split('\n')[0].TrimEnd('\r');
        if (string.IsNullOrEmpty(line))
        {
            values.Refuse(MailCatalog.PasswordFile, problem ?? $"The first line of {path} is empty.");
        }

        return line;
    }
}
