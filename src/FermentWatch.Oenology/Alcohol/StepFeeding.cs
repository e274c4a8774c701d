using FermentWatch.Oenology.Blending;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Alcohol;

/// <summary>Sugar or honey fed during the ferment: the original gravity as if all of it had been there from the start.</summary>
public static class StepFeeding
{
    /// <summary>Original gravity of must and feeds together. Dimensionless.</summary>
    /// <param name="start">The must before fermentation.</param>
    /// <param name="feeds">What was fed, by mass.</param>
    /// <remarks>
    /// <para><b>Equation.</b> E₀ = Σ extract / Σ mass over must and feeds, turned into gravity (<see cref="Liquid"/>). The gas that left in
    /// between does not enter: it is counted when alcohol is computed from this gravity and the present one.</para>
    /// <para><b>Valid.</b> Up to 1.175. Beyond: still computed, marked <see cref="Validity.Extrapolated"/>. Samples and rackings taken
    /// between feeds are not in it: with 2 % of the volume taken, the error is below 0.001.</para>
    /// <para><b>Error.</b> 0.001 where the volume is known to 1 %. <b>Source.</b> balance of mass. <b>Check.</b> WorksheetCatalogTests (step-feeding).</para>
    /// </remarks>
    public static Computed<SpecificGravity> OriginalGravity(Liquid start, IEnumerable<Liquid> feeds)
    {
        ArgumentNullException.ThrowIfNull(feeds);
        var gravity = feeds.Aggregate(start, (sum, feed) => sum + feed).Gravity;
        return new(gravity, 0.001, gravity.Value is >= 1 and <= 1.175 ? Validity.WithinSource : Validity.Extrapolated);
    }
}
