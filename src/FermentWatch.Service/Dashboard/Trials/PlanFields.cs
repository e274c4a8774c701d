using FermentWatch.Infrastructure.Storage;
using FermentWatch.Monitoring.Batches;
using FermentWatch.Monitoring.Batches.Journaling;
using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.BenchTrials;
using FermentWatch.Oenology.Worksheets;
using FermentWatch.Service.Dashboard.Bench;
using FermentWatch.Service.Dashboard.Words;

namespace FermentWatch.Service.Dashboard.Trials;

/// <summary>What a plan asks for, and what the batch answers by itself.</summary>
internal static class PlanFields
{
    /// <summary>Poured for each taster, unless told otherwise (common practice, no source). [mL]</summary>
    public const double UsualPour = 25;

    /// <summary>Fewest and most glasses of a flight, control and twin counted.</summary>
    public static readonly (int Low, int High, int Usual) Glasses = (3, 6, 5);

    public static TrialField Volume { get; } = new("volume", QuantityKind.Volume, 0.2, 10000, true);

    public static TrialField VolumeError { get; } = new("volume-error", QuantityKind.Volume, 0, 1000, false);

    public static TrialField Gravity { get; } = new("gravity", QuantityKind.Gravity, 0.97, 1.2, false);

    public static TrialField Alcohol { get; } = new("alcohol", QuantityKind.Alcohol, 0, 25, false);

    public static TrialField Ph { get; } = new("ph", QuantityKind.Ph, 2.5, 4.8, false);

    public static TrialField Acidity { get; } = new("titratable-acidity", QuantityKind.AcidConcentration, 0.5, 30, false);

    public static TrialField Sugar { get; } = new("sugar", QuantityKind.SugarConcentration, 0, 500, false);

    public static TrialField Step { get; } = new("step", QuantityKind.Dose, 0.005, 75, false);

    public static TrialField SecondStep { get; } = new("second-step", QuantityKind.Dose, 0.005, 75, false);

    public static TrialField Pour { get; } = new("pour", QuantityKind.SmallVolume, 5, 100, false);

    public static TrialField Glass { get; } = new("glass-volume", QuantityKind.SmallVolume, 10, 2000, false);

    /// <summary>What stands on the page at once.</summary>
    public static IReadOnlyList<TrialField> Wine { get; } = [Volume, Gravity, Alcohol, Ph, Acidity];

    /// <summary>What few change.</summary>
    public static IReadOnlyList<TrialField> More { get; } = [Step, SecondStep, Pour, Glass, VolumeError, Sugar];

    /// <summary>What the batch knows, by field, with where it comes from.</summary>
    public static Dictionary<string, BatchValue> Known(BoardEntry entry, BatchFacts? facts, Reader reader)
    {
        var values = BatchValues.Of(entry, facts, reader);
        if (values.Remove("present-gravity", out var gravity))
        {
            values["gravity"] = gravity;
        }

        return values;
    }

    /// <summary>The plan as it stands before anything is typed.</summary>
    public static Dictionary<string, string> Usual(BoardEntry entry, Dictionary<string, BatchValue> known, string who, Reader reader)
    {
        var typed = new Dictionary<string, string>(StringComparer.Ordinal)
        {
            ["kind"] = "ladder",
            ["what"] = TrialAdditive.Sucrose.Code,
            ["second"] = TrialAdditive.Tartaric.Code,
            ["glasses"] = Glasses.Usual.ToString(global::System.Globalization.CultureInfo.InvariantCulture),
            ["who"] = who,
            ["liquid"] = "wine",
            ["acids"] = entry.View.Batch.Kind switch { FermentKind.Mead => nameof(AcidProfile.Mead), FermentKind.Cider => nameof(AcidProfile.MalicFruit), _ => "" },
        };
        foreach (var field in Wine)
        {
            typed[field.Name] = known.TryGetValue(field.Name, out var value) && value.Kept >= field.Low && value.Kept <= field.High ? field.Typed(value.Kept, reader) : "";
        }

        return typed;
    }

    /// <summary>The same as the page shows it: what stands in the field, and where it comes from.</summary>
    public static IReadOnlyDictionary<string, (string Typed, string From)> Sources(Dictionary<string, BatchValue> known, Reader reader) =>
        Wine.Where(field => known.ContainsKey(field.Name)).ToDictionary(field => field.Name, field => (field.Typed(known[field.Name].Kept, reader), known[field.Name].From));

    /// <summary>Tannin that the journal knows of. [g/L]</summary>
    public static double TanninSoFar(Batch batch, BatchFacts? facts, Monitoring.Telemetry.EventTime now) => facts is null
        ? 0
        : Ledger.Of(batch, JournalReading.Active([.. facts.Journal], now)).Lines.Where(line => line.Kind == JournalKind.TanninAdded).Sum(line => line.PerLiter ?? 0);

    /// <summary>Who tasted last time: the names of the newest trial.</summary>
    public static string WhoLast(Store store, string? signedIn) =>
        store.ReadTrials() is [var last, ..] ? string.Join(", ", last.Trial.Request.Tasters) : signedIn ?? "";
}
