using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.BenchTrials;

/// <summary>A dose of one additive.</summary>
/// <param name="Additive">What.</param>
/// <param name="GramsPerLiter">Active part in a liter of the finished glass or batch. [g/L]</param>
public sealed record AdditiveDose(TrialAdditive Additive, double GramsPerLiter);

/// <summary>A predicted pH with its stated error.</summary>
/// <param name="Value">pH.</param>
/// <param name="Tolerance">Half-width of the error.</param>
public readonly record struct PredictedPh(double Value, double Tolerance);

/// <summary>Predicts the pH of a dosed wine from its measured pH and acidity; null when it can't.</summary>
/// <param name="wine">The wine before.</param>
/// <param name="wineShare">Share of the finished glass that is wine, 0 to 1.</param>
/// <param name="doses">What was added.</param>
public delegate PredictedPh? PhModel(BenchWine wine, double wineShare, IReadOnlyList<AdditiveDose> doses);

/// <summary>What a dosed wine should measure. Null where the wine's own figure was not given.</summary>
/// <param name="WineShare">Share of the finished volume that is wine. 0 to 1.</param>
/// <param name="SpecificGravity">Gravity 20/20 °C.</param>
/// <param name="AlcoholPercent">Alcohol. [% vol]</param>
/// <param name="SugarAddedGramsPerLiter">Sugar from the additives. [g/L]</param>
/// <param name="SugarGramsPerLiter">All sugar. [g/L]</param>
/// <param name="AcidityLowGramsPerLiter">Titratable acidity as tartaric, lowest. [g/L]</param>
/// <param name="AcidityHighGramsPerLiter">The same, highest: a carbonate's effect depends on what precipitates. [g/L]</param>
/// <param name="Ph">pH, to be measured in the glass before the batch is dosed.</param>
/// <param name="TanninGramsPerLiter">Tannin product added, so far and now. [g/L]</param>
public sealed record GlassPrediction(
    double WineShare,
    Computed<SpecificGravity>? SpecificGravity,
    double? AlcoholPercent,
    double SugarAddedGramsPerLiter,
    double? SugarGramsPerLiter,
    double? AcidityLowGramsPerLiter,
    double? AcidityHighGramsPerLiter,
    PredictedPh? Ph,
    double TanninGramsPerLiter)
{
    private const double WaterGramsPerLiter = 998.2;

    /// <summary>Predicts a dosed wine.</summary>
    /// <param name="wine">The wine before.</param>
    /// <param name="doses">What is in the finished liter.</param>
    /// <param name="waterShare">Share of the finished volume that is water from a stock, 0 to 1.</param>
    /// <param name="ph">Predicts pH; null for no prediction.</param>
    /// <remarks>
    /// <para><b>Equation.</b> Volumes add: wine share φ = 1 − Σ vᵢcᵢ − water. SG = φ·SG₀ + Σ pᵢ/998.2 + water, p the product in g/L; TA = φ·TA₀ +
    /// Σ kᵢcᵢ; sugar, alcohol and tannin likewise. Contraction of alcohol with water is neglected: below 0.1 % vol at these shares.</para>
    /// <para><b>Valid.</b> Doses up to 300 g/L in all. <b>Error.</b> Gravity 0.0005 for the hydrometer and 3 % of the change, from the volume
    /// a gram of additive brings. <b>Source.</b> Mass balance; <see cref="TrialAdditive"/>. <b>Check.</b> GlassPredictionTests, against the
    /// sucrose table.</para>
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">So much is added that less than 0.4 of the glass is wine.</exception>
    public static GlassPrediction Of(BenchWine wine, IReadOnlyList<AdditiveDose> doses, double waterShare = 0, PhModel? ph = null)
    {
        ArgumentNullException.ThrowIfNull(wine);
        ArgumentNullException.ThrowIfNull(doses);
        var share = QuantityRange.Require(
            1 - waterShare - doses.Sum(dose => dose.Additive.MillilitersPerActiveGram * dose.GramsPerLiter / 1000), 0.4, 1, "share of wine in the glass", "(share)");
        var product = doses.Sum(dose => dose.GramsPerLiter / dose.Additive.ActiveMassFraction);
        var added = doses.Where(dose => dose.Additive.Role is AdditiveRole.Sweetener && dose.Additive.CanFerment).Sum(dose => dose.GramsPerLiter);
        var gravity = (share * wine.SpecificGravity) + (product / WaterGramsPerLiter) + waterShare;
        return new(
            share,
            gravity is { } ratio
                ? new(Quantities.SpecificGravity.FromRatio(ratio), 0.0005 + (0.03 * Math.Abs(ratio - wine.SpecificGravity!.Value)), Validity.WithinSource)
                : null,
            share * wine.AlcoholPercent,
            added,
            (share * wine.SugarGramsPerLiter) + added,
            (share * wine.TitratableAcidityGramsPerLiter) + doses.Sum(dose => dose.GramsPerLiter * dose.Additive.AcidityPerGramLow),
            (share * wine.TitratableAcidityGramsPerLiter) + doses.Sum(dose => dose.GramsPerLiter * dose.Additive.AcidityPerGramHigh),
            ph?.Invoke(wine, share, doses),
            (share * wine.TanninGramsPerLiter) + doses.Where(dose => dose.Additive.Role is AdditiveRole.Tannin).Sum(dose => dose.GramsPerLiter));
    }
}
