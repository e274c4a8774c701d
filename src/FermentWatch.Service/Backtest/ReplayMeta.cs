using System.Text.Json;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Forecasting;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service.Configuration;

namespace FermentWatch.Service.Backtest;

/// <summary>A moment at which the product must speak.</summary>
/// <param name="Number">Its number in the folder.</param>
/// <param name="At">The trustworthy present time.</param>
/// <param name="Rows">How many rows of readings had arrived.</param>
internal sealed record ReplayCut(int Number, EventTime At, int Rows);

/// <summary>What the maker had told about a recorded batch (meta.json).</summary>
/// <param name="Ferment">Name of the recording.</param>
/// <param name="Batch">The batch. Without 'sensors' in the file it has none yet: every sensor of the readings then belongs to it.</param>
/// <param name="GravityUnit">Unit of the column 'gravity'.</param>
/// <param name="Cuts">Moments to predict at, in order; null when the file names none.</param>
internal sealed record ReplayMeta(string Ferment, Batch Batch, MeasurementUnit GravityUnit, IReadOnlyList<ReplayCut>? Cuts)
{
    /// <summary>What was assumed before any reading: the shipped assumptions, moved by the finished batches that the file names.</summary>
    public PriorSnapshot Prior { get; private init; } = PriorSnapshot.Shipped;

    private static readonly Dictionary<string, MeasurementUnit> GravityUnits = new(StringComparer.OrdinalIgnoreCase)
    {
        ["sg"] = MeasurementUnit.SpecificGravity,
        ["points"] = MeasurementUnit.GravityPoints,
        ["plato"] = MeasurementUnit.DegreesPlato,
        ["kgm3"] = MeasurementUnit.KilogramsPerCubicMeter,
    };

    /// <summary>Reads the file.</summary>
    /// <exception cref="BacktestException">Something in it is missing or wrong.</exception>
    public static ReplayMeta Read(string folder)
    {
        var path = Path.Combine(folder, "meta.json");
        try
        {
            using var document = JsonDocument.Parse(File.ReadAllText(path));
            return Read(new JsonFields(path, document.RootElement), Path.GetFileName(Path.TrimEndingDirectorySeparator(folder)));
        }
        catch (JsonException fault)
        {
            throw new BacktestException($"{path}: not valid JSON ({fault.Message})", fault);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new BacktestException($"{path}: cannot be read ({fault.Message})", fault);
        }
    }

    private static ReplayMeta Read(JsonFields fields, string folderName)
    {
        var pitched = fields.Time("pitched") ?? throw fields.Wrong("pitched", "the moment of the inoculation, such as 2026-03-01T08:00:00Z");
        var kindWord = fields.Text("kind");
        if (kindWord is null || !SettingWords.Kinds.TryGetValue(kindWord, out var kind))
        {
            throw fields.Wrong("kind", SettingWords.OneOf(SettingWords.Kinds.Keys));
        }

        var unitWord = fields.Text("gravity_unit") ?? "sg";
        if (!GravityUnits.TryGetValue(unitWord, out var unit))
        {
            throw fields.Wrong("gravity_unit", SettingWords.OneOf(GravityUnits.Keys));
        }

        var ferment = fields.Text("ferment") ?? folderName;
        var batch = new Batch(
            new BatchId(ferment),
            fields.Text("name") ?? ferment,
            kind,
            fields.Text("vessel"),
            fields.Number("volume_liters", 0.01, 1e6) is { } liters ? Volume.FromLiters(liters) : null,
            pitched,
            fields.Number("declared_og", 0.98, 1.3) is { } original ? SpecificGravity.FromRatio(original) : null,
            Band(fields),
            fields.Number("declared_tolerance_abv", 1, 30) is { } tolerance ? AlcoholByVolume.FromPercent(tolerance) : null,
            Sensors(fields));
        return new ReplayMeta(ferment, batch, unit, CutsOf(fields)) { Prior = PriorSnapshot.Learn(FinishedBatchFields.Read(fields)) };
    }

    private static TemperatureBand? Band(JsonFields fields)
    {
        const string Name = "temp_range_c";
        const string Right = "[low, high] in °C, from -20 to 60, low below high; or null";
        if (fields.Array(Name) is not { } both)
        {
            return null;
        }

        return both.Count == 2
            && both[0].TryDouble(out var low) && both[1].TryDouble(out var high)
            && low is >= -20 and <= 60 && high > low && high <= 60
            ? new TemperatureBand(Temperature.FromCelsius(low), Temperature.FromCelsius(high))
            : throw fields.Wrong(Name, Right);
    }

    private static ValueList<SensorAttachment> Sensors(JsonFields fields)
    {
        var sensors = new List<SensorAttachment>();
        foreach (var one in fields.Objects("sensors"))
        {
            var name = one.Text("sensor") ?? throw one.Wrong("sensor", "the name of the sensor in readings.csv");
            var from = one.Time("from") ?? throw one.Wrong("from", "when it came into the batch, such as 2026-03-01T08:00:00Z");
            var word = one.Text("placement") ?? "in-liquid";
            sensors.Add(SettingWords.Placements.TryGetValue(word, out var placement)
                ? new SensorAttachment(new SensorId(name), from, one.Time("until"), placement)
                : throw one.Wrong("placement", SettingWords.OneOf(SettingWords.Placements.Keys)));
        }

        return ValueList.Of<SensorAttachment>(sensors);
    }

    private static List<ReplayCut>? CutsOf(JsonFields fields)
    {
        if (fields.Array("cuts") is null)
        {
            return null;
        }

        var cuts = new List<ReplayCut>();
        foreach (var one in fields.Objects("cuts"))
        {
            var number = one.Number("cut", 0, int.MaxValue) ?? throw one.Wrong("cut", "the number of the cut");
            var rows = one.Number("rows", 0, int.MaxValue) ?? throw one.Wrong("rows", "how many rows of readings had arrived");
            cuts.Add(new ReplayCut((int)number, one.Time("time") ?? throw one.Wrong("time", "the present time, such as 2026-03-01T20:00:00Z"), (int)rows));
        }

        return cuts;
    }
}
