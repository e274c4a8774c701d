namespace FermentWatch.Oenology.BenchTrials;

/// <summary>The batch as it is today. What is not known stays null and is not predicted.</summary>
/// <param name="VolumeLiters">Measured volume today. [L]</param>
/// <param name="VolumeErrorLiters">Half-width of its error. [L]</param>
/// <param name="SpecificGravity">Degassed, 20/20 °C.</param>
/// <param name="AlcoholPercent">Alcohol. [% vol]</param>
/// <param name="Ph">Measured pH.</param>
/// <param name="TitratableAcidityGramsPerLiter">Measured, as tartaric. [g/L]</param>
/// <param name="SugarGramsPerLiter">Measured sugar; never from gravity alone. [g/L]</param>
/// <param name="TanninGramsPerLiter">Tannin added so far, as product. [g/L]</param>
public sealed record BenchWine(
    double VolumeLiters,
    double VolumeErrorLiters,
    double? SpecificGravity = null,
    double? AlcoholPercent = null,
    double? Ph = null,
    double? TitratableAcidityGramsPerLiter = null,
    double? SugarGramsPerLiter = null,
    double TanninGramsPerLiter = 0);
