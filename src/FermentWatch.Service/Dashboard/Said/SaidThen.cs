using System.Globalization;
using System.Text.Json;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.Dashboard.Said;

/// <summary>What was said at a moment, as it was kept then.</summary>
/// <param name="At">The moment.</param>
/// <param name="Low">Lower end of the 9-in-10 range of the final gravity; null where it said that it could not tell.</param>
/// <param name="Middle">Its middle.</param>
/// <param name="High">Its upper end.</param>
/// <param name="Early">Early end of the 9-in-10 range of the finish; null where no day was in sight.</param>
/// <param name="Late">Its late end.</param>
internal sealed record SaidThen(EventTime At, double? Low, double? Middle, double? High, EventTime? Early, EventTime? Late)
{
    // Gravity of a finished batch is read to about a thousandth; a range that misses by less than half of it has held.
    private const double Reading = 0.0005;

    /// <summary>Whether the range of the final gravity holds what came; null where it said nothing.</summary>
    public bool? Holds(double came) => Low is { } low && High is { } high ? came >= low - Reading && came <= high + Reading : null;

    /// <summary>Reads a forecast as it was kept.</summary>
    public static SaidThen Of(ForecastRecord record)
    {
        using var json = JsonDocument.Parse(record.Quantiles);
        var root = json.RootElement;
        if (root.TryGetProperty("notYet", out var notYet) && notYet.ValueKind == JsonValueKind.String)
        {
            return new SaidThen(record.AsOf, null, null, null, null, null);
        }

        return new SaidThen(
            record.AsOf,
            Number(root, "p05"), Number(root, "p50"), Number(root, "p95"),
            Time(root, "p05"), Time(root, "p95"));
    }

    private static double? Number(JsonElement root, string quantile) =>
        root.TryGetProperty("finalGravity", out var gravity) && gravity.TryGetProperty(quantile, out var value) && value.TryGetDouble(out var number) ? number : null;

    private static EventTime? Time(JsonElement root, string quantile) =>
        root.TryGetProperty("finish", out var finish) && finish.TryGetProperty(quantile, out var value) && value.ValueKind == JsonValueKind.String
        && DateTimeOffset.TryParse(value.GetString(), CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var time)
            ? EventTime.From(time)
            : null;
}
