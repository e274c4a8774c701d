using FermentWatch.Infrastructure.Mqtt;

namespace FermentWatch.Service.Configuration;

/// <summary>Reads the section Broker.</summary>
internal static class BrokerReading
{
    public static BrokerSettings Read(SettingValues values, string dataDirectory, List<string> warnings)
    {
        var mode = values.Get(BrokerCatalog.Mode);
        var embedded = Embedded(values, dataDirectory);
        var external = External(values, dataDirectory, warnings);
        if (mode == BrokerMode.External && external.Host.Length == 0 && !values.Has(BrokerCatalog.ExternalHost))
        {
            values.Refuse(BrokerCatalog.ExternalHost, "Broker:Mode is 'external', so it is needed.");
        }

        if (mode == BrokerMode.Embedded && values.Has(BrokerCatalog.ExternalHost))
        {
            values.Add("Broker:External:Host is given, but Broker:Mode is 'embedded': set Broker:Mode to 'external', or leave the host out.");
        }

        return new BrokerSettings(mode, embedded, mode == BrokerMode.External ? external : null) { IsGiven = values.Has(BrokerCatalog.Mode) };
    }

    private static EmbeddedBrokerSettings Embedded(SettingValues values, string dataDirectory)
    {
        var port = values.Get(BrokerCatalog.EmbeddedPort);
        var plain = new EmbeddedBrokerSettings(values.Get(BrokerCatalog.EmbeddedAddress), port) { TlsPort = values.Get(BrokerCatalog.EmbeddedTlsPort) };
        var (file, keyFile) = (values.Get(BrokerCatalog.EmbeddedCertificateFile), values.Get(BrokerCatalog.EmbeddedKeyFile));
        var passwordFile = values.Get(BrokerCatalog.EmbeddedKeyPasswordFile);
        if (file is null)
        {
            Setting[] others = [BrokerCatalog.EmbeddedKeyFile, BrokerCatalog.EmbeddedKeyPasswordFile, BrokerCatalog.EmbeddedTlsPort];
            if (!values.Has(BrokerCatalog.EmbeddedCertificateFile) && others.FirstOrDefault(other => values.Has(other)) is { } given)
            {
                values.Refuse(BrokerCatalog.EmbeddedCertificateFile, $"{given.Key} is given, so it is needed.");
            }

            return plain;
        }

        if (plain.TlsPort == port)
        {
            values.Refuse(BrokerCatalog.EmbeddedTlsPort, "It is the same as Broker:Embedded:Port.");
        }

        var errors = values.ErrorCount;
        var password = passwordFile is null ? null : FirstLine(values, BrokerCatalog.EmbeddedKeyPasswordFile, Path.Combine(dataDirectory, passwordFile));
        if (values.ErrorCount > errors)
        {
            return plain;
        }

        var (certificate, problem) = BrokerCertificate.Load(
            Path.Combine(dataDirectory, file), keyFile is null ? null : Path.Combine(dataDirectory, keyFile), password, TimeProvider.System.GetUtcNow());
        if (certificate is null)
        {
            values.Refuse(keyFile is null ? BrokerCatalog.EmbeddedCertificateFile : BrokerCatalog.EmbeddedKeyFile, problem);
        }

        return plain with { Certificate = certificate };
    }

    private static ExternalBrokerSettings External(SettingValues values, string dataDirectory, List<string> warnings)
    {
        var tls = values.Get(BrokerCatalog.ExternalTls);
        var user = values.Get(BrokerCatalog.ExternalUser);
        var password = values.Get(BrokerCatalog.ExternalPassword);
        if (values.Get(BrokerCatalog.ExternalPasswordFile) is { } passwordFile)
        {
            if (values.Has(BrokerCatalog.ExternalPassword))
            {
                values.Add("Broker:External:Password and Broker:External:PasswordFile are both given: give one of them.");
            }

            password = FirstLine(values, BrokerCatalog.ExternalPasswordFile, Path.Combine(dataDirectory, passwordFile));
        }

        var passwordGiven = values.Has(BrokerCatalog.ExternalPassword) || values.Has(BrokerCatalog.ExternalPasswordFile);
        if (passwordGiven && !values.Has(BrokerCatalog.ExternalUser))
        {
            values.Refuse(BrokerCatalog.ExternalUser, "A password is given, so it is needed.");
        }

        if (passwordGiven && !tls)
        {
            warnings.Add("Broker:External:Tls is false: the broker's password goes over the network in the clear.");
        }

        return new ExternalBrokerSettings(
            values.Get(BrokerCatalog.ExternalHost) ?? string.Empty,
            values.Get(BrokerCatalog.ExternalPort) ?? (tls ? 8883 : 1883),
            user,
            password,
            tls,
            Authority(values, dataDirectory, tls),
            values.Get(BrokerCatalog.ExternalClientId));
    }

    private static string? Authority(SettingValues values, string dataDirectory, bool tls)
    {
        if (values.Get(BrokerCatalog.ExternalAuthorityFile) is not { } file)
        {
            return null;
        }

        var path = Path.Combine(dataDirectory, file);
        if (!tls)
        {
            values.Add("Broker:External:CaFile is given, but Broker:External:Tls is false: set Broker:External:Tls to 'true', or leave the file out.");
        }

        var (text, problem) = TextFile.Read(path);
        if (text is null)
        {
            values.Refuse(BrokerCatalog.ExternalAuthorityFile, problem);
        }
        else if (!text.Contains("-----BEGIN CERTIFICATE-----", StringComparison.Ordinal))
        {
            values.Refuse(BrokerCatalog.ExternalAuthorityFile, $"{path} holds no '-----BEGIN CERTIFICATE-----'.");
        }

        return path;
    }

    private static string? FirstLine(SettingValues values, Setting setting, string path)
    {
        var (text, problem) = TextFile.Read(path);
        var line = text?.Split('\n')[0].TrimEnd('\r');
        if (string.IsNullOrEmpty(line))
        {
            values.Refuse(setting, problem ?? $"The first line of {path} is empty.");
        }

        return line;
    }
}
