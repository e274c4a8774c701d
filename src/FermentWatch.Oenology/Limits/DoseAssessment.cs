using System.Text.Json.Serialization;
using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Worksheets;

namespace FermentWatch.Oenology.Limits;

/// <summary>What is said to a dose.</summary>
public enum DoseVerdict
{
    /// <summary>Within what is recommended, and within every limit that counts.</summary>
    Within = 1,

    /// <summary>Beyond what is recommended: shown with a warning.</summary>
    BeyondRecommended,

    /// <summary>Beyond the absolute limit: refused.</summary>
    BeyondAbsolute,
}

/// <summary>A dose held against the guard rails of its additive.</summary>
/// <param name="Additive">Which.</param>
/// <param name="Verdict">The decision.</param>
/// <param name="Total">The dose with what is already there.</param>
/// <param name="Exceeded">The limit it goes beyond; null when it goes beyond none.</param>
/// <param name="Absolute">The absolute limit that counts here; null when none is known.</param>
/// <param name="Words">Dose, limit, whose it is and what stands behind it. Also said when all is within, with the limit.</param>
public sealed record DoseAssessment(
    Additive Additive,
    DoseVerdict Verdict,
    MassConcentration Total,
    AdditiveLimit? Exceeded,
    AdditiveLimit? Absolute,
    [property: JsonIgnore] Phrase Words)
{
    /// <summary>The sentence in English.</summary>
    public string Sentence => Words.ToString();

    /// <summary>Code of the refusal: "beyond-limit".</summary>
    public const string RefusalCode = "beyond-limit";

    /// <summary>Code of the warning: "beyond-recommended".</summary>
    public const string WarningCode = "beyond-recommended";

    /// <summary>Whether the dose must not be given out.</summary>
    public bool IsRefused => Verdict is DoseVerdict.BeyondAbsolute;

    /// <summary>The sentence as a worksheet shows it; null when the dose is within.</summary>
    public WorksheetNotice? Notice => Verdict switch
    {
        DoseVerdict.BeyondAbsolute => WorksheetNotice.Refusal(RefusalCode, Words),
        DoseVerdict.BeyondRecommended => WorksheetNotice.Warning(WarningCode, Words),
        _ => null,
    };
}
