using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Must;

/// <summary>How much dry yeast a must is given.</summary>
/// <param name="LowestGrams">At 0.2 g/L. [g]</param>
/// <param name="HighestGrams">At 0.5 g/L: for rich, cold or sulfited must. [g]</param>
public readonly record struct PitchRate(double LowestGrams, double HighestGrams)
{
    /// <summary>The gravity from which the upper half of the range is advised.</summary>
    public const double RichFrom = 1.100;

    /// <summary>Dry yeast for a volume of must. [g]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> 0.2 to 0.5 g/L; from 1.100, 0.35 to 0.5 g/L.</para>
    /// <para><b>Valid.</b> Dry wine yeast within its date. <b>Error.</b> A range. <b>Source.</b> Common practice, no source.
    /// <b>Check.</b> WorksheetCatalogTests (must-from-sweetener).</para>
    /// </remarks>
    public static PitchRate Of(Volume volume, SpecificGravity must) => new((must.Value >= RichFrom ? 0.35 : 0.2) * volume.Liters, 0.5 * volume.Liters);
}
