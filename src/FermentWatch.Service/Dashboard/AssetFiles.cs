using System.Collections.Frozen;
using System.Security.Cryptography;
using Microsoft.Net.Http.Headers;

namespace FermentWatch.Service.Dashboard;

/// <summary>
/// The style sheets, the script and the mark, kept inside the assembly: the service is one file and does not depend on the
/// working directory. The address carries a hash of the content, so that a browser may keep it for good.
/// </summary>
internal static class AssetFiles
{
    private const string Prefix = "FermentWatch.Service.Dashboard.Assets.";

    private static readonly FrozenDictionary<string, Asset> Files = Read();

    private sealed record Asset(byte[] Content, string Type, string Tag);

    /// <summary>Path below the root: <c>assets/look.css?v=1a2b3c4d</c>.</summary>
    public static string Address(string name) => $"assets/{name}?v={Files[name].Tag}";

    /// <summary>The bytes of a file.</summary>
    public static byte[] Content(string name) => Files[name].Content;

    public static void Map(IEndpointRouteBuilder routes) => routes.MapMethods("/assets/{name}", ["GET", "HEAD"], (string name, HttpContext context) =>
    {
        if (!Files.TryGetValue(name, out var asset))
        {
            return Results.NotFound();
        }

        var isVersioned = context.Request.Query["v"] == asset.Tag;
        context.Response.Headers.CacheControl = isVersioned ? "public, max-age=31536000, immutable" : "no-cache";
        return Results.Bytes(asset.Content, asset.Type, entityTag: new EntityTagHeaderValue($"\"{asset.Tag}\""));
    });

    private static FrozenDictionary<string, Asset> Read()
    {
        var assembly = typeof(AssetFiles).Assembly;
        var files = new Dictionary<string, Asset>();
        foreach (var resource in assembly.GetManifestResourceNames().Where(name => name.StartsWith(Prefix, StringComparison.Ordinal)))
        {
            using var stream = assembly.GetManifestResourceStream(resource)!;
            var content = new byte[stream.Length];
            stream.ReadExactly(content);
            var name = resource[Prefix.Length..];
            files[name] = new Asset(content, TypeOf(name), Convert.ToHexStringLower(SHA256.HashData(content))[..12]);
        }

        return files.ToFrozenDictionary();
    }

    private static string TypeOf(string name) => Path.GetExtension(name) switch
    {
        ".css" => "text/css; charset=utf-8",
        ".js" => "text/javascript; charset=utf-8",
        ".svg" => "image/svg+xml",
        ".png" => "image/png",
        ".webmanifest" => "application/manifest+json",
        _ => "application/octet-stream",
    };
}
