using System.Collections.Immutable;
using System.Text.Json.Serialization;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>What an additive is there for.</summary>
[JsonConverter(typeof(JsonStringEnumConverter<AdditiveRole>))]
public enum AdditiveRole
{
    /// <summary>Sweetens.</summary>
    Sweetener,

    /// <summary>Adds acid.</summary>
    Acid,

    /// <summary>Takes acid away.</summary>
    Deacidifier,

    /// <summary>Adds tannin.</summary>
    Tannin,

    /// <summary>Anything else, such as a spike of a training kit.</summary>
    Other,
}

/// <summary>Something that is tried in a glass and then given to the batch. Doses are grams of the active part in a liter.</summary>
/// <param name="Code">Its name, lower-case words joined by hyphens.</param>
/// <param name="Role">What it is there for.</param>
/// <param name="ActiveMassFraction">Active part of the product: sugars of honey, acid of lactic acid liquid; 1 for a pure powder. [g/g]</param>
/// <param name="MillilitersPerGram">Volume that a gram of the product brings to the wine. [mL/g]</param>
/// <param name="LiquidGramsPerMilliliter">Density of a liquid product; null for a powder. [g/mL]</param>
/// <param name="AcidityPerGramLow">Change of titratable acidity as tartaric by a gram of active part, lowest. [g/g]</param>
/// <param name="AcidityPerGramHigh">The same, highest. [g/g]</param>
/// <param name="HighestStockMassFraction">Strongest stock that dissolves and stays poured, product in solution. [g/g]</param>
/// <param name="FinestStepGramsPerLiter">Below this step tasting doesn't help. [g/L]</param>
/// <param name="CoarseStepGramsPerLiter">Usual first step. [g/L]</param>
/// <param name="CanFerment">Whether yeast can ferment it.</param>
public sealed record TrialAdditive(
    string Code,
    AdditiveRole Role,
    double ActiveMassFraction,
    double MillilitersPerGram,
    double? LiquidGramsPerMilliliter,
    double AcidityPerGramLow,
    double AcidityPerGramHigh,
    double HighestStockMassFraction,
    double FinestStepGramsPerLiter,
    double CoarseStepGramsPerLiter,
    bool CanFerment)
{
    private const double AcidMillilitersPerGram = 0.55;

    /// <summary>Table sugar. Step 3 to 5 g/L from memory.</summary>
    public static TrialAdditive Sucrose { get; } =
        new("sucrose", AdditiveRole.Sweetener, 1, DoseArithmetic.SugarMillilitersPerGram, null, 0, 0, 0.5, 3, 5, true);

    /// <summary>Dextrose monohydrate: 90.9 % sugar by stoichiometry.</summary>
    public static TrialAdditive Dextrose { get; } =
        new("dextrose", AdditiveRole.Sweetener, 0.9091, DoseArithmetic.SugarMillilitersPerGram, null, 0, 0, 0.4, 3, 5, true);

    /// <summary>Honey of 17 % water: 82.1 g sugars in 100 g, 1.42 g/mL.</summary>
    public static TrialAdditive Honey { get; } = new("honey", AdditiveRole.Sweetener, 0.821, 1 / 1.42, null, 0, 0, 0.5, 3, 5, true);

    /// <summary>A sweetener that yeast can't ferment, dosed by its sweetness beside sugar at the label's word.</summary>
    public static TrialAdditive UnfermentableSweetener { get; } =
        new("unfermentable-sweetener", AdditiveRole.Sweetener, 1, DoseArithmetic.SugarMillilitersPerGram, null, 0, 0, 0.3, 3, 5, false);

    /// <summary>Tartaric acid.</summary>
    public static TrialAdditive Tartaric { get; } = Acid("tartaric-acid", 1, 1, null);

    /// <summary>Malic acid: 1.119 of tartaric by equivalent mass.</summary>
    public static TrialAdditive Malic { get; } = Acid("malic-acid", 1.119, 1, null);

    /// <summary>Citric acid: 1.172 of tartaric by equivalent mass.</summary>
    public static TrialAdditive Citric { get; } = Acid("citric-acid", 1.172, 1, null);

    /// <summary>Lactic acid liquid of 88 % and 1.19 g/mL: strength and density are asked from the label; 0.833 of tartaric.</summary>
    public static TrialAdditive Lactic { get; } = Acid("lactic-acid", 0.833, 0.88, 1.19);

    /// <summary>Potassium bicarbonate: takes 0.75 g/L (nothing precipitates) to 1.50 g/L (all bitartrate does) for each g/L.</summary>
    public static TrialAdditive PotassiumBicarbonate { get; } =
        new("potassium-bicarbonate", AdditiveRole.Deacidifier, 1, 0.3, null, -1.5, -0.75, 0.05, 0.5, 1, false);

    /// <summary>Powdered tannin, as product; steps of 50 mg/L as in published series, from 25 (common practice, no source).</summary>
    public static TrialAdditive Tannin { get; } = new("tannin", AdditiveRole.Tannin, 1, 0.65, null, 0, 0, 0.01, 0.025, 0.05, false);

    /// <summary>The additives that are known here; the page offers them, and strengths may be changed with 'with'.</summary>
    /// <remarks>Equivalences, composition and deacidification: sources in REFERENCES.md under [TrialAdditives]. Volume of acids and tannin
    /// in wine is from memory: it moves a dose of 1 g/L by 0.05 %.</remarks>
    public static ImmutableArray<TrialAdditive> All { get; } =
        [Sucrose, Dextrose, Honey, UnfermentableSweetener, Tartaric, Malic, Citric, Lactic, PotassiumBicarbonate, Tannin];

    /// <summary>Volume that a gram of active part brings to the wine. [mL/g]</summary>
    [JsonIgnore]
    public double MillilitersPerActiveGram => MillilitersPerGram / ActiveMassFraction;

    /// <summary>The taste that this additive moves; null for others.</summary>
    [JsonIgnore]
    public Tasting.TasteQuality? Moves => Role switch
    {
        AdditiveRole.Sweetener => Tasting.TasteQuality.Sweet,
        AdditiveRole.Acid or AdditiveRole.Deacidifier => Tasting.TasteQuality.Acid,
        AdditiveRole.Tannin => Tasting.TasteQuality.Tannin,
        _ => null,
    };

    // Finest 0.5 g/L, coarse 1: the published difference threshold in wine is about 1.3 g/L tartaric.
    private static TrialAdditive Acid(string code, double acidityPerGram, double activeFraction, double? density) =>
        new(code, AdditiveRole.Acid, activeFraction, density is { } liquid ? 1 / liquid : AcidMillilitersPerGram, density, acidityPerGram, acidityPerGram, 0.1, 0.5, 1, false);
}
