using System.Security.Cryptography;
using System.Text;

namespace FermentWatch.Service.Access;

/// <summary>Secrets that the service makes: random, shown once, kept as hashes.</summary>
internal static class Secrets
{
    // Without letters that are read for one another.
    private const string Letters = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789";

    /// <summary>A key of 160 random bits in lower-case letters and digits.</summary>
    public static string NewKey() => RandomNumberGenerator.GetString(Letters, 32).ToLowerInvariant();

    /// <summary>A code to be typed from one screen to another: 50 random bits, such as K7MQX-2HDPA.</summary>
    public static string NewCode() => RandomNumberGenerator.GetString(Letters, 5) + "-" + RandomNumberGenerator.GetString(Letters, 5);

    /// <summary>SHA-256 [FIPS 180-4] in hexadecimal digits. Enough for random keys; passwords, which can be guessed, get a slow hash.</summary>
    public static string Hash(string secret) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(secret)));

    /// <summary>Compares in a time that does not depend on where they differ.</summary>
    public static bool AreSame(string one, string other) => CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(one), Encoding.UTF8.GetBytes(other));
}
