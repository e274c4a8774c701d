using System.Text.Json;
using System.Text.Json.Serialization;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>Rejections as JSON.</summary>
internal static class ReasonJson
{
    // JSON has no infinities, and a rejected number may well be one.
    private static readonly JsonSerializerOptions Options = new() { NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals };

    /// <summary>Writes rejections; null for none.</summary>
    public static string? Write(IReadOnlyList<RejectedField> rejections) => rejections.Count == 0 ? null : JsonSerializer.Serialize(rejections, Options);

    /// <summary>Reads what <see cref="Write"/> wrote.</summary>
    public static IReadOnlyList<RejectedField> Read(string? text) => text is null ? [] : JsonSerializer.Deserialize<List<RejectedField>>(text, Options)!;
}
