using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Service.Backtest;
using FermentWatch.Service.Configuration;
using FermentWatch.Service.Pipeline;

namespace FermentWatch.Service.InOut;

/// <summary>Writes a batch for elsewhere: as a table of readings, and as a folder from which it can be replayed as it was.</summary>
/// <param name="store">Where the facts are.</param>
/// <param name="words">Turns a reason into words.</param>
/// <param name="corrected">The words for a reading that a later one corrected.</param>
internal sealed class BatchExport(Store store, Func<Reason, string> words, string corrected)
{
    private static readonly TimeSpan BetweenCuts = TimeSpan.FromHours(12);

    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true };

    /// <summary>All readings of the batch in the layout of <see cref="OwnColumns"/>, sensor by sensor in order of arrival.</summary>
    public void Readings(BatchView view, Stream stream)
    {
        using var text = Text(stream, leaveOpen: true);
        text.Write(CsvCells.Row([.. OwnColumns.Names]));
        var aside = view.SetAside.GroupBy(point => point.At).ToDictionary(points => points.Key, points => points.ToList());
        foreach (var attachment in view.Batch.Sensors)
        {
            store.ExportReadings(attachment.Sensor, attachment.From, attachment.Until ?? EventTime.From(DateTimeOffset.MaxValue), one =>
                text.Write(OwnColumns.Row(one, one.Corrected ? corrected : Why(one, aside))));
        }
    }

    /// <summary>The replay folder as a ZIP: readings.csv in order of arrival, meta.json with what the maker told and the cuts, journal.csv, photos.</summary>
    public void Replay(Batch batch, EventTime now, Stream stream)
    {
        using var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true);
        var arrivals = new List<EventTime>();
        using (var text = Text(zip.CreateEntry("readings.csv").Open()))
        {
            text.Write(CsvCells.Row("sensor_id", "time", "gravity", "temperature_c", "received_at"));
            foreach (var row in ReplayRows.Of(store, batch))
            {
                arrivals.Add(new EventTime(row.ReceivedAt.UnixMicroseconds));
                text.Write(CsvCells.Row(row.Sensor.Value, row.Stamp, row.Gravity, row.Celsius, row.ReceivedAt));
            }
        }

        using (var meta = zip.CreateEntry("meta.json").Open())
        {
            JsonSerializer.Serialize(meta, Meta(batch, arrivals, now), Indented);
        }

        Journal(batch.Id, zip.CreateEntry("journal.csv").Open());
        Photos(batch.Id, zip, "photos/");
    }

    /// <summary>The photos of a batch as JPEG, each under the number by which the body of its journal entry names it.</summary>
    public void Photos(BatchId batch, ZipArchive zip, string folder)
    {
        foreach (var number in store.ReadPhotoNumbers(batch))
        {
            if (store.ReadPhoto(batch, number) is { } photo)
            {
                using var file = zip.CreateEntry(string.Create(CultureInfo.InvariantCulture, $"{folder}{number}.jpg"), CompressionLevel.NoCompression).Open();
                file.Write(photo.Jpeg);
            }
        }
    }

    /// <summary>The journal: at, kind, body as JSON, supersedes.</summary>
    public void Journal(BatchId batch, Stream stream)
    {
        using var text = Text(stream);
        text.Write(CsvCells.Row("id", "at", "kind", "body", "supersedes", "undone_at"));
        foreach (var entry in store.ExportJournal(batch))
        {
            text.Write(CsvCells.Row(entry.Id, entry.At, Word(entry.Kind.ToString()), entry.Body, entry.Supersedes, entry.UndoneAt));
        }
    }

    /// <summary>What the maker told about a batch.</summary>
    public static JsonObject About(Batch batch) => new()
    {
        ["ferment"] = batch.Id.Value,
        ["name"] = batch.Name,
        ["kind"] = SettingWords.Kinds.First(word => word.Value == batch.Kind).Key,
        ["vessel"] = batch.Vessel,
        ["volume_liters"] = batch.Volume?.Liters,
        ["pitched"] = batch.InoculatedAt.ToString(),
        ["declared_og"] = batch.OriginalGravity?.Value,
        ["declared_tolerance_abv"] = batch.Tolerance?.Percent,
        ["stage_bands_c"] = batch.StageBands.Count == 0 ? null : new JsonObject(batch.StageBands.Select(one =>
            KeyValuePair.Create<string, JsonNode?>(Word(one.Stage.ToString()), new JsonArray(one.Band.Low.Celsius, one.Band.High.Celsius)))),
        ["temp_range_c"] = batch.TemperatureBand is { } band ? new JsonArray(band.Low.Celsius, band.High.Celsius) : null,
        ["sensors"] = new JsonArray([.. batch.Sensors.Select(sensor => new JsonObject
        {
            ["sensor"] = sensor.Sensor.Value,
            ["from"] = sensor.From.ToString(),
            ["until"] = sensor.Until?.ToString(),
            ["placement"] = SettingWords.Placements.First(word => word.Value == sensor.Placement).Key,
        })]),
    };

    /// <summary>UTF-8 without a mark; closes the stream with itself unless told not to.</summary>
    internal static StreamWriter Text(Stream stream, bool leaveOpen = false) =>
        new(stream, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false), 1 << 16, leaveOpen);

    /// <summary>'MeasuredByHand' as 'measured-by-hand'.</summary>
    internal static string Word(string name) =>
        string.Concat(name.Select((letter, i) => char.IsUpper(letter) ? (i > 0 ? "-" : "") + char.ToLowerInvariant(letter) : letter.ToString(CultureInfo.InvariantCulture)));

    private string Why(ExportedReading one, Dictionary<EventTime, List<SetAsidePoint>> aside) =>
        one.Series.Quantity == QuantityKind.Gravity
            && aside.TryGetValue(one.Reading.At, out var points)
            && points.FirstOrDefault(point => Math.Abs(point.Gravity.Value - one.Reading.Value) < 1e-6) is { } found
            ? words(found.Because)
            : "";

    private JsonObject Meta(Batch batch, List<EventTime> arrivals, EventTime now)
    {
        var meta = About(batch);
        meta["gravity_unit"] = "sg";
        if (PriorBook.KeptWith(store, batch.Id) is { Count: > 0 } finished)
        {
            meta[FinishedBatchFields.Name] = FinishedBatchFields.Write(finished);
        }

        var cuts = new JsonArray();
        if (arrivals.Count > 0)
        {
            var end = arrivals.Max();
            var rows = 0;
            for (var (at, number) = (batch.InoculatedAt + BetweenCuts, 0); at < end + BetweenCuts && at <= now; at += BetweenCuts, number++)
            {
                while (rows < arrivals.Count && arrivals[rows] <= at)
                {
                    rows++;
                }

                cuts.Add(new JsonObject { ["cut"] = number, ["time"] = at.ToString(), ["rows"] = rows });
            }
        }

        meta["cuts"] = cuts;
        return meta;
    }
}
