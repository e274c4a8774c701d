using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace FermentWatch.Infrastructure.Notifiers;

/// <summary>Signs requests with a shared secret, so that their receiver knows who sent them, that nothing was changed, and that none is played again.</summary>
/// <remarks>[RFC9421] HTTP message signatures with hmac-sha256 (section 3.3.3), over a digest of the body after [RFC9530].</remarks>
public static class HttpSignature
{
    /// <summary>Label of our signature in its headers.</summary>
    public const string Label = "notice";

    /// <summary>Name of the key, as the receiver may look it up.</summary>
    public const string KeyId = "fermentwatch";

    /// <summary>The header Content-Digest of a body.</summary>
    public static string DigestOf(ReadOnlySpan<byte> body) => $"sha-256=:{Convert.ToBase64String(SHA256.HashData(body))}:";

    /// <summary>The text that is signed: a line for each component and one for the parameters ([RFC9421] section 2.5).</summary>
    /// <param name="components">Names and values of the components, in order.</param>
    /// <param name="parameters">What stands in Signature-Input behind the label.</param>
    public static string Base(IEnumerable<(string Name, string Value)> components, string parameters)
    {
        ArgumentNullException.ThrowIfNull(components);
        var text = new StringBuilder();
        foreach (var (name, value) in components)
        {
            text.Append('"').Append(name).Append("\": ").Append(value).Append('\n');
        }

        return text.Append("\"@signature-params\": ").Append(parameters).ToString();
    }

    /// <summary>HMAC-SHA256 [RFC2104, FIPS 180-4] of a signature base, in base64.</summary>
    public static string Sign(ReadOnlySpan<byte> key, string signatureBase) => Convert.ToBase64String(HMACSHA256.HashData(key, Encoding.ASCII.GetBytes(signatureBase)));

    /// <summary>Puts digest and signature on a request: method, path, query, digest and type of the body, when it was made, and a number used once.</summary>
    /// <param name="request">With its content, whose headers are complete.</param>
    /// <param name="body">The content's bytes.</param>
    /// <param name="key">The shared secret.</param>
    /// <param name="created">When it is sent.</param>
    /// <param name="nonce">A number used once: printable ASCII without quotes.</param>
    public static void Put(HttpRequestMessage request, ReadOnlySpan<byte> body, ReadOnlySpan<byte> key, DateTimeOffset created, string nonce)
    {
        ArgumentNullException.ThrowIfNull(request);
        var (address, headers) = (request.RequestUri!, request.Content!.Headers);
        var digest = DigestOf(body);
        (string Name, string Value)[] components =
        [
            ("@method", request.Method.Method),
            ("@path", address.AbsolutePath),
            // Section 2.2.7: an address without a query has the lone question mark.
            ("@query", address.Query.Length == 0 ? "?" : address.Query),
            ("content-digest", digest),
            ("content-type", headers.ContentType!.ToString()),
        ];
        var parameters = string.Create(
            CultureInfo.InvariantCulture,
            $"({string.Join(' ', components.Select(one => $"\"{one.Name}\""))});created={created.ToUnixTimeSeconds()};nonce=\"{nonce}\";keyid=\"{KeyId}\";alg=\"hmac-sha256\"");
        headers.TryAddWithoutValidation("Content-Digest", digest);
        request.Headers.TryAddWithoutValidation("Signature-Input", $"{Label}={parameters}");
        request.Headers.TryAddWithoutValidation("Signature", $"{Label}=:{Sign(key, Base(components, parameters))}:");
    }
}
