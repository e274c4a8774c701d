using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Alcohol;

/// <summary>The widespread straight-line rule for alcohol, shown beside <see cref="MassBalance"/> to compare.</summary>
public static class LinearAlcoholRule
{
    private const double PercentPerGravity = 131.25;
    private const double HighestOriginal = 1.115;

    /// <summary>Alcohol by the straight line, never below 0. [% vol]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> A = 131.25·(original − present gravity).</para>
    /// <para><b>Valid.</b> Original up to 1.115. Beyond: still computed, marked <see cref="Validity.Extrapolated"/>.</para>
    /// <para><b>Error.</b> 1.0 % vol: 0.5 of the mass balance, and up to 0.5 that the line falls short of it at 1.115. Beyond, 1.5: it is
    /// 0.7 short at 1.140 and 0.9 at 1.170.</para>
    /// <para><b>Source.</b> Common practice, no source. <b>Check.</b> WorksheetCatalogTests (alcohol-from-gravity).</para>
    /// </remarks>
    public static Computed<AlcoholByVolume> Of(SpecificGravity original, SpecificGravity present)
    {
        var percent = Math.Clamp(PercentPerGravity * (original.Value - present.Value), 0, 100);
        return original.Value <= HighestOriginal
            ? new(AlcoholByVolume.FromPercent(percent), 1, Validity.WithinSource)
            : new(AlcoholByVolume.FromPercent(percent), 1.5, Validity.Extrapolated);
    }
}
