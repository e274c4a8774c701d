using System.Text.Json;
using System.Text.Json.Serialization;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Infrastructure.Storage;

/// <summary>A band of a stage, as stored.</summary>
/// <param name="Stage">Number of the stage.</param>
/// <param name="Low">Lower limit. [°C]</param>
/// <param name="High">Upper limit. [°C]</param>
internal sealed record StoredBand(int Stage, double Low, double High);

/// <summary>How bands become JSON.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower)]
[JsonSerializable(typeof(List<StoredBand>))]
internal sealed partial class StageBandJson : JsonSerializerContext;

/// <summary>Bands of stages between column and type.</summary>
internal static class StageBandRows
{
    public static string? Write(ValueList<StageBand> bands) => bands.Count == 0
        ? null
        : JsonSerializer.Serialize([.. bands.Select(one => new StoredBand((int)one.Stage, one.Band.Low.Celsius, one.Band.High.Celsius))], StageBandJson.Default.ListStoredBand);

    public static ValueList<StageBand> Read(string? json) => ValueList.Of((json is null ? null : JsonSerializer.Deserialize(json, StageBandJson.Default.ListStoredBand) ?? [])
        ?.Select(one => new StageBand((BatchStage)one.Stage, new TemperatureBand(Temperature.FromCelsius(one.Low), Temperature.FromCelsius(one.High)))) ?? []);
}
