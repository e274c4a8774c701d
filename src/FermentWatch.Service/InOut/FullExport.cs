using System.IO.Compression;
using System.Text.Json;
using System.Text.Json.Nodes;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.InOut;

/// <summary>Everything as one ZIP of plain files: batches.json, the journal of each batch with its photos, the readings of each sensor, mappings.json. No secret is among them.</summary>
internal static class FullExport
{
    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true };

    /// <summary>Writes it, entry by entry.</summary>
    public static void Write(Store store, BatchExport export, ValueList<TopicMapping> topics, Stream stream)
    {
        using var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true);
        var batches = store.ReadBatches();
        Json(zip, "batches.json", new JsonArray([.. batches.Select(BatchExport.About)]));
        Json(zip, "mappings.json", new JsonArray([.. topics.Select(Mapping)]));
        foreach (var batch in batches)
        {
            export.Journal(batch.Id, zip.CreateEntry($"journals/{batch.Id.Value}.csv").Open());
            export.Photos(batch.Id, zip, "photos/");
        }

        var number = 0;
        foreach (var sensor in store.ReadSeries().Select(series => series.Series.Sensor).Distinct())
        {
            // Names of sensors may hold what names of files may not: the number keeps them apart.
            using var text = BatchExport.Text(zip.CreateEntry($"readings/{++number:000}-{FileName(sensor.Value)}.csv").Open());
            text.Write(CsvCells.Row([.. OwnColumns.Names]));
            store.ExportReadings(sensor, new EventTime(long.MinValue), new EventTime(long.MaxValue), one =>
                text.Write(OwnColumns.Row(one, "")));
        }
    }

    /// <summary>A name that every file system takes.</summary>
    internal static string FileName(string name) =>
        string.Concat(name.Take(60).Select(letter => char.IsAsciiLetterOrDigit(letter) || letter is '-' or '_' ? letter : '-'));

    private static void Json(ZipArchive zip, string name, JsonNode content)
    {
        using var stream = zip.CreateEntry(name).Open();
        JsonSerializer.Serialize(stream, content, Indented);
    }

    private static JsonNode Mapping(TopicMapping topic) => new JsonObject
    {
        ["filter"] = topic.Filter.ToString(),
        ["sensor"] = topic.Sensor.ToString(),
        ["fields"] = new JsonArray([.. topic.Fields.Select(field => new JsonObject
        {
            ["pointer"] = field.Source?.ToString(),
            ["quantity"] = SettingWords.Of(field.Quantity),
            ["unit"] = SettingWords.Of(field.Unit),
        })]),
    };
}
