using System.Globalization;
using System.Net.Security;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using MQTTnet;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>Decides whether a broker's certificate is the right one, and remembers what was wrong with it.</summary>
internal sealed class BrokerTrust
{
    /// <summary>What stands for the file's name where the certificates came as text.</summary>
    private const string TextName = "PEM text";

    private readonly string _host;
    private readonly X509Certificate2Collection? _authorities;

    /// <summary>Reads the authority file, if one is set.</summary>
    /// <exception cref="BrokerFailureException">The file cannot be read.</exception>
    public BrokerTrust(ExternalBrokerOptions options)
    {
        _host = options.Host;
        if (options.AuthorityFile is { } file)
        {
            _authorities = Read(file, authorities => authorities.ImportFromPemFile(file));
        }

        if (options.AuthorityText is { } text)
        {
            (_authorities ??= []).AddRange(Read(TextName, authorities => authorities.ImportFromPem(text)));
        }
    }

    /// <summary>What was wrong with the certificate; null when it was accepted or none was shown.</summary>
    public BrokerFailureException? Complaint { get; private set; }

    /// <summary>TLS settings of a connection.</summary>
    public MqttClientTlsOptions Options() => new MqttClientTlsOptionsBuilder()
        .UseTls()
        .WithTargetHost(_host)
        .WithCertificateValidationHandler(Accepts)
        .Build();

    private static X509Certificate2Collection Read(string file, Action<X509Certificate2Collection> import)
    {
        var authorities = new X509Certificate2Collection();
        try
        {
            import(authorities);
        }
        catch (Exception cause) when (cause is IOException or UnauthorizedAccessException or CryptographicException or ArgumentException)
        {
            throw BrokerFailureException.Refused(BrokerProblems.AuthorityFile, cause, file, cause.Message);
        }

        return authorities.Count > 0
            ? authorities
            : throw BrokerFailureException.Refused(BrokerProblems.AuthorityFile, null, file, "no certificate in PEM form");
    }

    private bool Accepts(MqttClientCertificateValidationEventArgs args)
    {
        Complaint = Judge(args);
        return Complaint is null;
    }

    private BrokerFailureException? Judge(MqttClientCertificateValidationEventArgs args)
    {
        if (args.Certificate is null)
        {
            return BrokerFailureException.Refused(BrokerProblems.CertificateUntrusted, null, _host);
        }

        using var certificate = new X509Certificate2(args.Certificate);
        using var chain = new X509Chain();
        chain.ChainPolicy.RevocationMode = X509RevocationMode.NoCheck;
        if (_authorities is not null)
        {
            chain.ChainPolicy.TrustMode = X509ChainTrustMode.CustomRootTrust;
            chain.ChainPolicy.CustomTrustStore.AddRange(_authorities);
        }

        // The broker sends the intermediate certificates along.
        foreach (var element in args.Chain?.ChainElements ?? Enumerable.Empty<X509ChainElement>())
        {
            chain.ChainPolicy.ExtraStore.Add(element.Certificate);
        }

        var signed = chain.Build(certificate);
        if (!signed && chain.ChainStatus.All(status => status.Status == X509ChainStatusFlags.NotTimeValid))
        {
            return BrokerFailureException.Refused(BrokerProblems.CertificateDate, null, Day(certificate.NotBefore), Day(certificate.NotAfter));
        }

        if (!signed)
        {
            return BrokerFailureException.Refused(BrokerProblems.CertificateUntrusted, null, _host);
        }

        return args.SslPolicyErrors.HasFlag(SslPolicyErrors.RemoteCertificateNameMismatch)
            ? BrokerFailureException.Refused(BrokerProblems.CertificateName, null, _host, NamesIn(certificate))
            : null;
    }

    private static string Day(DateTime time) => time.ToUniversalTime().ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static string NamesIn(X509Certificate2 certificate)
    {
        var alternatives = certificate.Extensions.OfType<X509SubjectAlternativeNameExtension>()
            .SelectMany(extension => extension.EnumerateDnsNames().Concat(extension.EnumerateIPAddresses().Select(address => address.ToString())))
            .ToList();
        return alternatives.Count > 0 ? string.Join(", ", alternatives) : certificate.GetNameInfo(X509NameType.DnsName, forIssuer: false);
    }
}
