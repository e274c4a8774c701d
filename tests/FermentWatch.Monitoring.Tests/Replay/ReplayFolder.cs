using System.Globalization;
using System.Text.Json;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Monitoring.Tests.Replay;

/// <summary>A moment at which a recorded batch is looked at: only the first rows have arrived by then.</summary>
public sealed record ReplayCut(int Number, EventTime At, int Rows);

/// <summary>One row of a recording, in order of arrival. A message may hold one of the two numbers; its arrival may be recorded.</summary>
public sealed record ReplayRow(string Sensor, EventTime Stamp, double? Gravity, double? Celsius, ReceivedAt? ReceivedAt);

/// <summary>A recorded batch: readings.csv in order of arrival, meta.json with what the maker typed in.</summary>
public sealed class ReplayFolder
{
    private ReplayFolder(string path, JsonElement meta, IReadOnlyList<ReplayRow> rows)
    {
        Path = path;
        Rows = rows;
        Unit = meta.GetProperty("gravity_unit").GetString()!;
        var kind = meta.GetProperty("kind").GetString() switch
        {
            "mead" => FermentKind.Mead,
            "cider" => FermentKind.Cider,
            _ => FermentKind.Wine,
        };
        var pitched = EventTime.From(meta.GetProperty("pitched").GetDateTimeOffset());
        var band = meta.GetProperty("temp_range_c");
        Batch = new Batch(
            new BatchId("replay"),
            "Recorded batch",
            kind,
            null,
            null,
            pitched,
            Number(meta, "declared_og") is { } gravity ? SpecificGravity.FromRatio(gravity) : null,
            band.ValueKind == JsonValueKind.Array
                ? new TemperatureBand(Temperature.FromCelsius(band[0].GetDouble()), Temperature.FromCelsius(band[1].GetDouble()))
                : null,
            Number(meta, "declared_tolerance_abv") is { } tolerance ? AlcoholByVolume.FromPercent(tolerance) : null,
            ValueList.Of(rows.Select(row => row.Sensor).Distinct().Select(sensor =>
                new SensorAttachment(new SensorId(sensor), pitched, null, Placement.InLiquid))));
        Cuts = [.. meta.GetProperty("cuts").EnumerateArray().Select(cut => new ReplayCut(
            cut.GetProperty("cut").GetInt32(),
            EventTime.From(cut.GetProperty("time").GetDateTimeOffset()),
            cut.GetProperty("rows").GetInt32()))];
    }

    public string Path { get; }

    public string Unit { get; }

    public Batch Batch { get; }

    public IReadOnlyList<ReplayRow> Rows { get; }

    public IReadOnlyList<ReplayCut> Cuts { get; }

    public static ReplayFolder Load(string path)
    {
        using var meta = JsonDocument.Parse(File.ReadAllText(global::System.IO.Path.Combine(path, "meta.json")));
        var rows = File.ReadLines(global::System.IO.Path.Combine(path, "readings.csv"))
            .Where(line => !line.StartsWith('#') && !line.StartsWith("sensor_id", StringComparison.Ordinal) && line.Length > 0)
            .Select(line => line.Split(','))
            .Select(cells => new ReplayRow(
                cells[0],
                EventTime.From(DateTimeOffset.Parse(cells[1], CultureInfo.InvariantCulture)),
                Cell(cells[2]),
                Cell(cells[3]),
                cells.Length > 4 ? ReceivedAt.From(DateTimeOffset.Parse(cells[4], CultureInfo.InvariantCulture)) : null))
            .ToList();
        return new ReplayFolder(path, meta.RootElement.Clone(), rows);
    }

    /// <summary>What is known once the first <paramref name="rows"/> rows have arrived.</summary>
    public BatchFacts FactsAfter(int rows)
    {
        var series = new List<SeriesReadings>();
        foreach (var sensor in Rows.Take(rows).Select((row, index) => (row, index)).GroupBy(pair => pair.row.Sensor))
        {
            var list = sensor.ToList();
            var placed = RecordedClock.FromArrivalOrder([.. list.Select(pair => pair.row.Stamp)]);
            var gravity = new List<Reading>();
            var temperature = new List<Reading>();
            var received = long.MinValue;
            for (var i = 0; i < list.Count; i++)
            {
                var (row, index) = list[i];
                received = row.ReceivedAt?.UnixMicroseconds ?? Math.Max(received, placed[i].At.UnixMicroseconds);
                Reading Of(double raw, double value) =>
                    new(placed[i].At, index, row.Stamp, new ReceivedAt(received), raw, value, placed[i].ClockTrusted);
                if (row.Gravity is { } ratio)
                {
                    gravity.Add(Of(ratio, ToRatio(ratio)));
                }

                if (row.Celsius is { } celsius)
                {
                    temperature.Add(Of(celsius, celsius));
                }
            }

            var id = new SensorId(sensor.Key);
            series.Add(new SeriesReadings(new SeriesKey(id, QuantityKind.Gravity), gravity));
            series.Add(new SeriesReadings(new SeriesKey(id, QuantityKind.Temperature), temperature));
        }

        return new BatchFacts(Batch, [], series);
    }

    private static double? Cell(string text) => text.Length > 0 ? double.Parse(text, CultureInfo.InvariantCulture) : null;

    private double ToRatio(double raw) => Unit switch
    {
        "points" => 1 + (raw / 1000),
        "kgm3" => raw / 998.2,
        // Accurate to 0.0005 from 0 to 40 °Plato, from memory.
        "plato" => 1 + (raw / (258.6 - (227.1 * raw / 258.2))),
        _ => raw,
    };

    private static double? Number(JsonElement meta, string name) =>
        meta.GetProperty(name) is { ValueKind: JsonValueKind.Number } number ? number.GetDouble() : null;
}
