using System.Buffers.Binary;
using System.Security.Cryptography;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>Encrypts a message for one browser: [RFC8291], with the content encoding aes128gcm of [RFC8188], in one record.</summary>
public static class PushEncryption
{
    /// <summary>Length of an uncompressed point on P-256 [SEC 1, section 2.3.3].</summary>
    public const int PointLength = 65;

    /// <summary>Length of a browser's authentication secret.</summary>
    public const int SecretLength = 16;

    /// <summary>Longest message: a push service need not take bodies of more than 4096 octets ([RFC8291] section 4).</summary>
    public const int LongestMessage = RecordSize - HeaderLength - TagLength - 1;

    private const int RecordSize = 4096;
    private const int SaltLength = 16;
    private const int TagLength = 16;
    private const int HeaderLength = SaltLength + 4 + 1 + PointLength;

    /// <summary>Whether bytes are a public key: an uncompressed point on the curve.</summary>
    public static bool IsKey(byte[] point)
    {
        ArgumentNullException.ThrowIfNull(point);
        try
        {
            using var key = ECDiffieHellman.Create(ParametersOf(point));
            return true;
        }
        catch (CryptographicException)
        {
            return false;
        }
    }

    /// <summary>Encrypts with a key pair and salt of its own.</summary>
    /// <param name="message">At most <see cref="LongestMessage"/> bytes.</param>
    /// <param name="browserKey">The browser's public key p256dh: an uncompressed point.</param>
    /// <param name="browserSecret">Its authentication secret.</param>
    /// <exception cref="CryptographicException">The browser's key is no point of the curve.</exception>
    public static byte[] Encrypt(ReadOnlySpan<byte> message, byte[] browserKey, byte[] browserSecret)
    {
        using var pair = ECDiffieHellman.Create(ECCurve.NamedCurves.nistP256);
        return Encrypt(message, browserKey, browserSecret, pair, RandomNumberGenerator.GetBytes(SaltLength));
    }

    /// <summary>Encrypts with a given key pair and salt: each pair of them for one message only.</summary>
    /// <exception cref="ArgumentException">Message, key, secret or salt have not their lengths.</exception>
    /// <exception cref="CryptographicException">The browser's key is no point of the curve.</exception>
    internal static byte[] Encrypt(ReadOnlySpan<byte> message, byte[] browserKey, byte[] browserSecret, ECDiffieHellman pair, byte[] salt)
    {
        if (message.Length > LongestMessage || browserKey.Length != PointLength || browserSecret.Length != SecretLength || salt.Length != SaltLength)
        {
            throw new ArgumentException($"The message must be of at most {LongestMessage} bytes, the key of {PointLength}, the secret and the salt of {SecretLength}.");
        }

        var ownKey = PointOf(pair.ExportParameters(includePrivateParameters: false));
        using var other = ECDiffieHellman.Create(ParametersOf(browserKey));
        using var otherKey = other.PublicKey;
        var shared = pair.DeriveRawSecretAgreement(otherKey);
        // [RFC8291] section 3.4: the secret of both keys, bound to the browser's secret and to both public keys.
        var keyed = HKDF.DeriveKey(HashAlgorithmName.SHA256, shared, 32, browserSecret, [.. "WebPush: info\0"u8, .. browserKey, .. ownKey]);
        // [RFC8188] sections 2.2 and 2.3.
        var contentKey = HKDF.DeriveKey(HashAlgorithmName.SHA256, keyed, 16, salt, "Content-Encoding: aes128gcm\0"u8.ToArray());
        var nonce = HKDF.DeriveKey(HashAlgorithmName.SHA256, keyed, 12, salt, "Content-Encoding: nonce\0"u8.ToArray());
        var body = new byte[HeaderLength + message.Length + 1 + TagLength];
        salt.CopyTo(body, 0);
        BinaryPrimitives.WriteUInt32BigEndian(body.AsSpan(SaltLength), RecordSize);
        body[SaltLength + 4] = PointLength;
        ownKey.CopyTo(body, SaltLength + 5);
        // The delimiter of the last record, and no padding.
        byte[] plain = [.. message, 2];
        using var cipher = new AesGcm(contentKey, TagLength);
        cipher.Encrypt(nonce, plain, body.AsSpan(HeaderLength, plain.Length), body.AsSpan(HeaderLength + plain.Length));
        return body;
    }

    /// <summary>The parameters of a public key from its point.</summary>
    internal static ECParameters ParametersOf(byte[] point) => point is { Length: PointLength } && point[0] == 4
        ? new ECParameters { Curve = ECCurve.NamedCurves.nistP256, Q = new ECPoint { X = point[1..33], Y = point[33..] } }
        : throw new CryptographicException("A public key must be an uncompressed point on P-256.");

    /// <summary>The uncompressed point of a public key.</summary>
    internal static byte[] PointOf(ECParameters parameters) => [4, .. parameters.Q.X!, .. parameters.Q.Y!];
}
