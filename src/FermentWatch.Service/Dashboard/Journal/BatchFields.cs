using System.Globalization;
using System.Text;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Monitoring.Telemetry;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Journal;

/// <summary>What the form of a batch asks for, from and to a batch.</summary>
internal static class BatchFields
{
    private static readonly string[] Kinds = ["wine", "mead", "cider"];
    private static readonly string[] Demands = ["low", "medium", "high"];
    private static readonly string[] Handlings = ["by-stage", "yeast-band-only"];
    private static readonly string[] Placements = ["in-liquid", "insulated-on-glass", "bare-glass", "room"];

    /// <summary>The first fields: enough to start.</summary>
    public static IReadOnlyList<JournalField> First { get; } =
    [
        new("name", FieldShape.Words, true),
        Choice("kind", true, Kinds),
        new("vessel", FieldShape.Words, false),
        Number("batch-volume", "L", 0.1, 100000, 2),
        Number("original-gravity", "SG", 0.98, 1.2, 3),
    ];

    /// <summary>The rest.</summary>
    public static IReadOnlyList<JournalField> More { get; } =
    [
        new("goal", FieldShape.Words, false),
        Number("headspace", "L", 0, 1000, 2),
        new("yeast", FieldShape.Words, false),
        Number("tolerance", "% vol", 3, 25, 1),
        Choice("nitrogen-demand", false, Demands),
        Number("band-low", "°C", -5, 45, 1),
        Number("band-high", "°C", -5, 45, 1),
        Choice("stages", true, Handlings),
    ];

    public static JournalField Placed { get; } = Choice("placement", true, Placements);

    /// <summary>All fields that are read the way journal entries are.</summary>
    public static JournalKindEntry Form { get; } = new(0, "batch", ValueList.Of<JournalField>([.. First, .. More, Placed]));

    /// <summary>What a batch says, as the form shows it.</summary>
    public static Dictionary<string, string> Typed(Batch batch, Reader reader)
    {
        var now = batch.Sensors.FirstOrDefault(sensor => sensor.Until is null);
        return new Dictionary<string, string>(StringComparer.Ordinal)
        {
            ["name"] = batch.Name,
            ["kind"] = Kinds[(int)batch.Kind - 1],
            ["vessel"] = batch.Vessel ?? "",
            ["batch-volume"] = Figure(batch.Volume?.Liters),
            ["original-gravity"] = batch.OriginalGravity?.Value.ToString("0.000#", CultureInfo.InvariantCulture) ?? "",
            ["goal"] = batch.Goal ?? "",
            ["headspace"] = Figure(batch.Headspace?.Liters),
            ["yeast"] = batch.Yeast ?? "",
            ["tolerance"] = Figure(batch.Tolerance?.Percent),
            ["nitrogen-demand"] = batch.NitrogenDemand is { } demand ? Demands[(int)demand - 1] : "",
            ["band-low"] = Figure(batch.TemperatureBand?.Low.Celsius),
            ["band-high"] = Figure(batch.TemperatureBand?.High.Celsius),
            ["stages"] = Handlings[(int)batch.StageHandling - 1],
            ["at"] = LocalTime.Typed(batch.InoculatedAt, reader),
            ["sensor"] = now?.Sensor.Value ?? "",
            ["placement"] = Placements[(int)(now?.Placement ?? Placement.InLiquid) - 1],
        };
    }

    /// <summary>The batch that a form without faults describes, without its sensors.</summary>
    public static Batch Batch(BatchId id, JournalFormResult read, EventTime inoculatedAt)
    {
        double? Of(string field) => read.Values.FirstOrDefault(value => value.Field == field).Number;
        string? Word(string field) => read.Values.FirstOrDefault(value => value.Field == field).Word;
        return new Batch(
            id,
            Word("name")!,
            (FermentKind)(Array.IndexOf(Kinds, Word("kind")) + 1),
            Word("vessel"),
            Of("batch-volume") is { } liters ? Volume.FromLiters(liters) : null,
            inoculatedAt,
            Of("original-gravity") is { } gravity ? SpecificGravity.FromRatio(gravity) : null,
            Of("band-low") is { } low && Of("band-high") is { } high ? new TemperatureBand(Temperature.FromCelsius(low), Temperature.FromCelsius(high)) : null,
            Of("tolerance") is { } percent ? AlcoholByVolume.FromPercent(percent) : null,
            ValueList.Of<SensorAttachment>())
        {
            Origin = BatchOrigin.Page,
            Goal = Word("goal"),
            Headspace = Of("headspace") is { } room ? Volume.FromLiters(room) : null,
            Yeast = Word("yeast"),
            NitrogenDemand = Word("nitrogen-demand") is { } demand ? (NitrogenDemand)(Array.IndexOf(Demands, demand) + 1) : null,
            StageHandling = (StageHandling)(Array.IndexOf(Handlings, Word("stages")) + 1),
        };
    }

    /// <summary>Where the sensor sits, as chosen.</summary>
    public static Placement PlacementOf(string word) => (Placement)(Array.IndexOf(Placements, word) + 1);

    /// <summary>A key for a batch of this name: 'Plum wine 2026' becomes 'plum-wine-2026'; with a number where it is taken.</summary>
    public static BatchId Key(string name, Func<BatchId, bool> isTaken)
    {
        var text = new StringBuilder();
        foreach (var letter in name.Normalize(NormalizationForm.FormD).ToLowerInvariant())
        {
            if (char.IsAsciiLetterOrDigit(letter))
            {
                text.Append(letter);
            }
            else if (CharUnicodeInfo.GetUnicodeCategory(letter) != UnicodeCategory.NonSpacingMark && text.Length > 0 && text[^1] != '-')
            {
                text.Append('-');
            }
        }

        var stem = text.ToString()[..Math.Min(text.Length, 34)].Trim('-');
        stem = stem.Length == 0 ? "batch" : stem;
        var key = new BatchId(stem);
        for (var number = 2; isTaken(key); number++)
        {
            key = new BatchId(string.Create(CultureInfo.InvariantCulture, $"{stem}-{number}"));
        }

        return key;
    }

    private static string Figure(double? number) => number?.ToString("0.####", CultureInfo.InvariantCulture) ?? "";

    private static JournalField Number(string name, string unit, double low, double high, int digits) =>
        new(name, FieldShape.Number, false) { Unit = unit, Low = low, High = high, Digits = digits };

    private static JournalField Choice(string name, bool isRequired, IEnumerable<string> choices) =>
        new(name, FieldShape.Choice, isRequired) { Choices = ValueList.Of(choices) };
}
