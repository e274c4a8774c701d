using System.IO.Compression;
using System.Text.Json;
using System.Text.Json.Nodes;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;

namespace FermentWatch.Service.InOut;

/// <summary>
/// Everything as one ZIP of plain files: batches.json, the journal of each batch with its photos, the readings of each sensor, mappings.json and
/// calibrations.json, to be read by people and other programs; under restore/ the rows that <see cref="FullImport"/> takes in. No secret is among
/// them; about.json names what is left out.
/// </summary>
internal static class FullExport
{
    /// <summary>Version of what stands under restore/.</summary>
    public const int Version = 1;

    /// <summary>The file that says what it is.</summary>
    public const string AboutName = "about.json";

    private static readonly Dictionary<string, string> WhyLeftOut = new()
    {
        ["people"] = "names, roles, passwords and sign-ins of people",
        ["devices"] = "devices and their keys",
        ["channels"] = "people's own channels with their addresses and tokens, and what the service remembers of itself; the settings file with its passwords",
        ["messages"] = "messages as they arrived; the readings in them are here",
        ["notices"] = "notices that were sent or wait",
    };

    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true };

    /// <summary>Writes it, entry by entry.</summary>
    public static void Write(Store store, BatchExport export, ValueList<TopicMapping> topics, Stream stream)
    {
        using var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true);
        Json(zip, AboutName, About());
        store.WriteWhole(topics, name => zip.CreateEntry(TablePath(name)).Open());
        var batches = store.ReadBatches();
        Json(zip, "batches.json", new JsonArray([.. batches.Select(BatchExport.About)]));
        List<SensorId> sensors = [.. store.ReadSeries().Select(series => series.Series.Sensor).Distinct()];
        Json(zip, "mappings.json", SensorExport.Mappings(topics, store));
        Json(zip, "calibrations.json", SensorExport.Calibrations(sensors, store));
        foreach (var batch in batches)
        {
            export.Journal(batch.Id, zip.CreateEntry($"journals/{batch.Id.Value}.csv").Open());
            export.Photos(batch.Id, zip, "photos/");
        }

        var number = 0;
        foreach (var sensor in sensors)
        {
            // Names of sensors may hold what names of files may not: the number keeps them apart.
            using var text = BatchExport.Text(zip.CreateEntry($"readings/{++number:000}-{FileName(sensor.Value)}.csv").Open());
            text.Write(CsvCells.Row([.. OwnColumns.Names]));
            store.ExportReadings(sensor, new EventTime(long.MinValue), new EventTime(long.MaxValue), one =>
                text.Write(OwnColumns.Row(one, "")));
        }
    }

    /// <summary>Where the rows of a table stand.</summary>
    internal static string TablePath(string table) => $"restore/{table}.jsonl";

    /// <summary>A name that every file system takes.</summary>
    internal static string FileName(string name) =>
        string.Concat(name.Take(60).Select(letter => char.IsAsciiLetterOrDigit(letter) || letter is '-' or '_' ? letter : '-'));

    private static void Json(ZipArchive zip, string name, JsonNode content)
    {
        using var stream = zip.CreateEntry(name).Open();
        JsonSerializer.Serialize(stream, content, Indented);
    }

    private static JsonObject About() => new()
    {
        ["about"] = "Everything that FermentWatch keeps, except what leftOut names.",
        ["version"] = Version,
        ["restore"] = "fermentwatch import FILE --data DIR",
        ["leftOut"] = new JsonArray([.. Store.WholeLeavesOut.Select(word => JsonValue.Create(WhyLeftOut[word]))]),
    };
}
