using System.Globalization;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Dashboard.Forms;

namespace FermentWatch.Service.Dashboard.Brokers;

/// <summary>What was typed into the form about an external broker.</summary>
/// <param name="External">The settings that it describes; null where a field is at fault.</param>
/// <param name="Faults">What is wrong, by field.</param>
internal sealed record BrokerFields(ExternalBrokerSettings? External, IReadOnlyDictionary<string, string> Faults)
{
    private const int LongestAuthority = 50_000;

    /// <summary>Reads the form. An empty password stands for the one that is kept, as long as it would go to the same place.</summary>
    public static BrokerFields Read(SentForm form, ExternalBrokerSettings? kept)
    {
        ArgumentNullException.ThrowIfNull(form);
        var faults = new Dictionary<string, string>(StringComparer.Ordinal);
        var tls = form["tls"] == "yes";
        var host = form["host"];
        if (SettingReaders.Host(host) is not { Ok: true })
        {
            faults["host"] = host.Length == 0 ? BrokerText.Of("host-missing") : BrokerText.Of("host-wrong", Short(host));
        }

        var usual = tls ? 8883 : 1883;
        var port = usual;
        if (form["port"].Length > 0 && (!int.TryParse(form["port"], NumberStyles.None, CultureInfo.InvariantCulture, out port) || port is < 1 or > 65535))
        {
            faults["port"] = BrokerText.Of("port-wrong", Short(form["port"]), usual);
        }

        var user = form["user"];
        var password = form.Fields["password"].ToString();
        if (user.Length > 200)
        {
            faults["user"] = BrokerText.Of("user-long", user.Length);
        }

        if (password.Length > 1000)
        {
            faults["password"] = BrokerText.Of("password-long", password.Length);
        }
        else if (password.Length > 0 && user.Length == 0)
        {
            faults["user"] = BrokerText.Of("user-missing");
        }
        else if (password.Length == 0 && user.Length > 0 && kept is { Password: not null } && kept.User == user)
        {
            if (kept.Host == host && kept.Port == port && kept.UseTls == tls)
            {
                password = kept.Password;
            }
            else
            {
                faults["password"] = BrokerText.Of("password-again");
            }
        }

        var authority = Authority(form, tls, faults);
        return new BrokerFields(
            faults.Count > 0
                ? null
                : new ExternalBrokerSettings(host, port, user.Length > 0 ? user : null, password.Length > 0 ? password : null, tls, null, null) { AuthorityText = authority },
            faults);
    }

    private static string? Authority(SentForm form, bool tls, Dictionary<string, string> faults)
    {
        var text = form["authority"];
        if (!tls || text.Length == 0)
        {
            return null;
        }

        try
        {
            var certificates = new X509Certificate2Collection();
            certificates.ImportFromPem(text.Length <= LongestAuthority ? text : "");
            if (certificates.Count > 0)
            {
                return certificates.ExportCertificatePems();
            }
        }
        catch (CryptographicException)
        {
            // Said below.
        }

        faults["authority"] = BrokerText.Of("authority-wrong");
        return null;
    }

    private static string Short(string text) => text.Length <= 80 ? text : text[..80] + "…";
}
