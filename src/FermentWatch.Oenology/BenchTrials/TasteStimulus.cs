using System.Collections.Immutable;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>Something that a palate is trained on, with the threshold its kit is built around.</summary>
/// <param name="Code">Its name.</param>
/// <param name="LowGramsPerLiter">Lower end of the stated threshold. [g/L]</param>
/// <param name="HighGramsPerLiter">Upper end; equal when one figure is stated. [g/L]</param>
/// <param name="Base">In what it was found: "water" or "wine".</param>
/// <param name="SourceKey">Key in REFERENCES.md; empty when from memory.</param>
/// <param name="IsSmellOnly">Smelled and never drunk.</param>
public sealed record TasteStimulus(string Code, double LowGramsPerLiter, double HighGramsPerLiter, string Base, string SourceKey, bool IsSmellOnly)
{
    /// <summary>Table sugar in water: 13.7 mmol/L, 4.69 g/L, 213 adults.</summary>
    public static TasteStimulus Sugar { get; } = new("sucrose", 4.69, 4.69, "water", "SucroseThreshold", false);

    /// <summary>Tartaric acid added to wine: 1.3 g/L from a base of 6.15, 1.64 in a white wine.</summary>
    public static TasteStimulus Tartaric { get; } = new("tartaric-acid", 1.3, 1.64, "wine", "AcidThreshold", false);

    /// <summary>Lactic acid added to white wine: 1.98 g/L as tartaric, so 2.38 g/L lactic acid.</summary>
    public static TasteStimulus Lactic { get; } = new("lactic-acid", 2.38, 2.38, "wine", "Ruivo2017", false);

    /// <summary>Citric acid in water, from memory.</summary>
    public static TasteStimulus Citric { get; } = new("citric-acid", 0.1, 0.2, "water", string.Empty, false);

    /// <summary>Caffeine in water, for bitter, from memory.</summary>
    public static TasteStimulus Caffeine { get; } = new("caffeine", 0.1, 0.2, "water", string.Empty, false);

    /// <summary>Tannic acid in water, for astringent, from memory.</summary>
    public static TasteStimulus TannicAcid { get; } = new("tannic-acid", 0.014, 0.02, "water", string.Empty, false);

    /// <summary>Acetic acid in red wine, for vinegar.</summary>
    public static TasteStimulus Acetic { get; } = new("acetic-acid", 0.6, 0.9, "wine", "DavisVolatileAcidity", false);

    /// <summary>Diacetyl in wine, for butter: 0.2 mg/L in a light white, 2.8 in a full red. Smelled only.</summary>
    public static TasteStimulus Diacetyl { get; } = new("diacetyl", 0.0002, 0.0028, "wine", "OxfordDiacetyl", true);

    /// <summary>Acetaldehyde in wine, for bruised apple. Smelled only.</summary>
    public static TasteStimulus Acetaldehyde { get; } = new("acetaldehyde", 0.1, 0.125, "wine", "AWRIFaults", true);

    /// <summary>Everything a kit can be made of.</summary>
    public static ImmutableArray<TasteStimulus> All { get; } = [Sugar, Tartaric, Lactic, Citric, Caffeine, TannicAcid, Acetic, Diacetyl, Acetaldehyde];

    /// <summary>Middle of the stated range: its geometric mean. [g/L]</summary>
    public double MiddleGramsPerLiter => Math.Sqrt(LowGramsPerLiter * HighGramsPerLiter);
}
