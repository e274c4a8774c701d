using System.Text.Json.Nodes;

namespace FermentWatch.System.Tests.InOut;

/// <summary>Configuration of one or two invented batches.</summary>
internal static class CellarWithBatch
{
    public static JsonObject Batch(string id, string name, string inoculated, string? sensor = null)
    {
        var batch = new JsonObject
        {
            ["Id"] = id,
            ["Name"] = name,
            ["Kind"] = "mead",
            ["Vessel"] = "Vessel " + id,
            ["Inoculated"] = inoculated,
            ["OriginalGravity"] = 1.098,
            ["BandLowCelsius"] = 18,
            ["BandHighCelsius"] = 22,
        };
        if (sensor is not null)
        {
            batch["Sensors"] = new JsonArray(new JsonObject { ["Sensor"] = sensor, ["From"] = inoculated, ["Placement"] = "in-liquid" });
        }

        return batch;
    }
}
