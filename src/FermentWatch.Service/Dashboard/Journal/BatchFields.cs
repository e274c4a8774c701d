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

    /// <summary>Name of the hidden field with the sensor that the form showed: another page may have moved it since.</summary>
    public const string SensorShown = "sensor-shown";

    /// <summary>Name of the hidden field with the placement that the form showed.</summary>
    public const string PlacementShown = "placement-shown";

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

    /// <summary>Names of the fields of a band: low and high.</summary>
    public static IReadOnlyList<(BatchStage Stage, string Low, string High)> Bands { get; } =
    [
        (BatchStage.Fermenting, "band-low", "band-high"),
        .. new[] { (BatchStage.Malolactic, "malolactic"), (BatchStage.ColdCrash, "cold-crash"), (BatchStage.Aging, "aging"), (BatchStage.SweetenedWatch, "sweetened"), (BatchStage.BottledWatch, "bottled") }
            .Select(one => (one.Item1, $"band-{one.Item2}-low", $"band-{one.Item2}-high")),
    ];

    /// <summary>The bands of the stages after the ferment.</summary>
    public static IReadOnlyList<JournalField> OfStages { get; } =
        [.. Bands.Skip(1).SelectMany(band => new[] { Number(band.Low, "°C", -5, 45, 1), Number(band.High, "°C", -5, 45, 1) })];

    public static JournalField Placed { get; } = Choice("placement", true, Placements);

    /// <summary>All fields that are read the way journal entries are.</summary>
    public static JournalKindEntry Form { get; } = new(0, "batch", ValueList.Of<JournalField>([.. First, .. More, Placed, .. OfStages]));

    /// <summary>What a batch says, as the form shows it.</summary>
    public static Dictionary<string, string> Typed(Batch batch, Reader reader)
    {
        var now = batch.Sensors.FirstOrDefault(sensor => sensor.Until is null);
        var typed = new Dictionary<string, string>(StringComparer.Ordinal)
        {
            ["name"] = batch.Name,
            ["kind"] = Kinds[(int)batch.Kind - 1],
            ["vessel"] = batch.Vessel ?? "",
            ["goal"] = batch.Goal ?? "",
            ["yeast"] = batch.Yeast ?? "",
            ["nitrogen-demand"] = batch.NitrogenDemand is { } demand ? Demands[(int)demand - 1] : "",
            ["stages"] = Handlings[(int)batch.StageHandling - 1],
            ["at"] = LocalTime.Typed(batch.InoculatedAt, reader),
            ["sensor"] = now?.Sensor.Value ?? "",
            ["placement"] = Placements[(int)(now?.Placement ?? Placement.InLiquid) - 1],
        };
        foreach (var field in Form.Fields.Where(field => field.Shape == FieldShape.Number))
        {
            typed[field.Name] = Stored(batch, field.Name) is { } number ? reader.FieldText(number, field.Unit, field.Digits) : "";
        }

        typed[SensorShown] = typed["sensor"];
        typed[PlacementShown] = typed["placement"];
        return typed;
    }

    /// <summary>The number that a batch holds under a field, in the field's unit.</summary>
    public static double? Stored(Batch? batch, string field) => field switch
    {
        _ when batch is null => null,
        "batch-volume" => batch.Volume?.Liters,
        "original-gravity" => batch.OriginalGravity?.Value,
        "headspace" => batch.Headspace?.Liters,
        "tolerance" => batch.Tolerance?.Percent,
        _ => Bands.FirstOrDefault(band => band.Low == field || band.High == field) is { Low: not null } found && BandOf(batch, found.Stage) is { } set
            ? (field == found.Low ? set.Low : set.High).Celsius
            : null,
    };

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
            StageBands = ValueList.Of(Bands.Skip(1).Where(band => Of(band.Low) is not null).Select(band => new StageBand(
                band.Stage, new TemperatureBand(Temperature.FromCelsius(Of(band.Low)!.Value), Temperature.FromCelsius(Of(band.High)!.Value))))),
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

    private static TemperatureBand? BandOf(Batch batch, BatchStage stage) =>
        stage == BatchStage.Fermenting ? batch.TemperatureBand : batch.StageBands.FirstOrDefault(one => one.Stage == stage)?.Band;

    private static JournalField Number(string name, string unit, double low, double high, int digits) =>
        new(name, FieldShape.Number, false) { Unit = unit, Low = low, High = high, Digits = digits };

    private static JournalField Choice(string name, bool isRequired, IEnumerable<string> choices) =>
        new(name, FieldShape.Choice, isRequired) { Choices = ValueList.Of(choices) };
}
