using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace FermentWatch.System.Tests.Mqtt;

/// <summary>A private certificate authority, made for one test.</summary>
internal sealed class TestAuthority : IDisposable
{
    private readonly ECDsa _key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
    private readonly X509Certificate2 _certificate;

    public TestAuthority()
    {
        var request = new CertificateRequest("CN=Cellar test authority", _key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(true, false, 0, true));
        request.CertificateExtensions.Add(new X509KeyUsageExtension(X509KeyUsageFlags.KeyCertSign, true));
        _certificate = request.CreateSelfSigned(DateTimeOffset.UtcNow.AddYears(-2), DateTimeOffset.UtcNow.AddYears(2));
    }

    /// <summary>Writes ca.pem, broker.pem and broker.key and returns the broker's configuration lines.</summary>
    public string[] WriteFiles(string folder, bool nameMatches = true, bool expired = false)
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest("CN=broker", key, HashAlgorithmName.SHA256);
        var names = new SubjectAlternativeNameBuilder();
        if (nameMatches)
        {
            names.AddIpAddress(IPAddress.Loopback);
        }
        else
        {
            names.AddDnsName("another.example");
        }

        request.CertificateExtensions.Add(names.Build());
        var end = expired ? DateTimeOffset.UtcNow.AddDays(-30) : DateTimeOffset.UtcNow.AddYears(1);
        using var certificate = request.Create(_certificate, DateTimeOffset.UtcNow.AddYears(-1), end, RandomNumberGenerator.GetBytes(8));
        File.WriteAllText(Path.Combine(folder, "ca.pem"), _certificate.ExportCertificatePem());
        File.WriteAllText(Path.Combine(folder, "broker.pem"), certificate.ExportCertificatePem());
        File.WriteAllText(Path.Combine(folder, "broker.key"), key.ExportPkcs8PrivateKeyPem());
        return [$"certfile {folder}/broker.pem", $"keyfile {folder}/broker.key"];
    }

    /// <summary>The authority alone, as a file for a client.</summary>
    public void Write(string file) => File.WriteAllText(file, _certificate.ExportCertificatePem());

    public void Dispose()
    {
        _certificate.Dispose();
        _key.Dispose();
    }
}
