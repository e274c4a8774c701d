using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>By what push services know this house: a key pair on P-256, whose public half a browser binds its subscription to ([RFC8292], VAPID).</summary>
public sealed class PushIdentity : IDisposable
{
    // [RFC8292] section 2 allows 24 h.
    private static readonly TimeSpan Lifetime = TimeSpan.FromHours(12);

    private readonly ECDsa _key;

    private PushIdentity(ECDsa key)
    {
        _key = key;
        PublicKey = Base64Url.EncodeToString(PushEncryption.PointOf(key.ExportParameters(includePrivateParameters: false)));
    }

    /// <summary>The public key as an uncompressed point in base64url, for the browser and for each request.</summary>
    public string PublicKey { get; }

    /// <summary>A new private key (PKCS 8), to be kept as a secret.</summary>
    public static byte[] NewKey()
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        return key.ExportPkcs8PrivateKey();
    }

    /// <summary>Reads a kept key.</summary>
    /// <exception cref="CryptographicException">It is none.</exception>
    public static PushIdentity Of(ReadOnlySpan<byte> key)
    {
        var read = ECDsa.Create();
        read.ImportPkcs8PrivateKey(key, out _);
        return new PushIdentity(read);
    }

    /// <summary>The credentials of a request to a push service: scheme 'vapid' with a token for that service alone.</summary>
    /// <param name="endpoint">Address of the subscription.</param>
    /// <param name="now">When it is sent.</param>
    /// <param name="subject">Where the sender can be reached: an https or mailto address; null leaves it out.</param>
    public string Credentials(Uri endpoint, DateTimeOffset now, string? subject)
    {
        ArgumentNullException.ThrowIfNull(endpoint);
        var claims = new Dictionary<string, object> { ["aud"] = endpoint.GetLeftPart(UriPartial.Authority), ["exp"] = (now + Lifetime).ToUnixTimeSeconds() };
        if (subject is not null)
        {
            claims["sub"] = subject;
        }

        // RFC 7515 and 7518: ES256 over header and claims, the signature as the two numbers one after the other.
        var signed = Base64Url.EncodeToString("{\"typ\":\"JWT\",\"alg\":\"ES256\"}"u8) + "." + Base64Url.EncodeToString(JsonSerializer.SerializeToUtf8Bytes(claims));
        var signature = _key.SignData(Encoding.ASCII.GetBytes(signed), HashAlgorithmName.SHA256, DSASignatureFormat.IeeeP1363FixedFieldConcatenation);
        return $"t={signed}.{Base64Url.EncodeToString(signature)}, k={PublicKey}";
    }

    /// <inheritdoc/>
    public void Dispose() => _key.Dispose();
}
