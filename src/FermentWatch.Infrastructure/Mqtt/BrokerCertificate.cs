using System.Globalization;
using System.Net.Security;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace FermentWatch.Infrastructure.Mqtt;

/// <summary>The certificate with which the embedded broker says who it is, with its private key and what stands between it and its authority.</summary>
/// <param name="Context">As the encrypted connections need it.</param>
/// <param name="ValidUntil">Its last moment, in UTC.</param>
public sealed record BrokerCertificate(SslStreamCertificateContext Context, DateTimeOffset ValidUntil)
{
    private const string PemBegin = "-----BEGIN";

    /// <summary>Reads PEM (certificate, then those between; the key in the same file or in another one) or PFX.</summary>
    /// <param name="file">The certificate's file.</param>
    /// <param name="keyFile">PEM file of the private key; null when it stands in the same file.</param>
    /// <param name="password">Password of the PFX file or of the key; null for none.</param>
    /// <param name="now">Today: a certificate that has ended is no use.</param>
    /// <returns>The certificate, or else what is wrong, as a sentence without any secret.</returns>
    public static (BrokerCertificate? Certificate, string? Problem) Load(string file, string? keyFile, string? password, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(file);
        try
        {
            var isPem = File.ReadAllText(file).Contains(PemBegin, StringComparison.Ordinal);
            if (!isPem && keyFile is not null)
            {
                return (null, $"{file} is no PEM file, so a key file cannot go with it.");
            }

            var (leaf, others) = isPem ? Pem(file, keyFile ?? file, password) : Pfx(file, password);
            return leaf is not { HasPrivateKey: true }
                ? (null, $"{file} holds no certificate with its private key.")
                : new DateTimeOffset(leaf.NotAfter) <= now
                    ? (null, $"The certificate in {file} ended on {leaf.NotAfter.ToUniversalTime().ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)}.")
                    : (new BrokerCertificate(SslStreamCertificateContext.Create(leaf, others, offline: true), new DateTimeOffset(leaf.NotAfter)), null);
        }
        catch (Exception cause) when (cause is IOException or UnauthorizedAccessException)
        {
            return (null, cause.Message);
        }
        catch (Exception cause) when (cause is CryptographicException or ArgumentException)
        {
            return (null, $"{(keyFile is null ? file : $"{file} with {keyFile}")} cannot be read as a certificate with its key: {cause.Message}{(password is null ? " If it has a password, give that too." : "")}");
        }
    }

    private static (X509Certificate2 Leaf, X509Certificate2Collection Others) Pem(string file, string keyFile, string? password)
    {
        var leaf = password is null ? X509Certificate2.CreateFromPemFile(file, keyFile) : X509Certificate2.CreateFromEncryptedPemFile(file, password, keyFile);
        var others = new X509Certificate2Collection();
        others.ImportFromPemFile(file);
        others.RemoveAt(0);
        return (leaf, others);
    }

    private static (X509Certificate2? Leaf, X509Certificate2Collection Others) Pfx(string file, string? password)
    {
        var all = X509CertificateLoader.LoadPkcs12CollectionFromFile(file, password);
        var leaf = all.FirstOrDefault(one => one.HasPrivateKey);
        return (leaf, [.. all.Where(one => one != leaf)]);
    }
}
