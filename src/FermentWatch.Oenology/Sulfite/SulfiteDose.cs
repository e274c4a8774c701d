using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Sulfite;

/// <summary>How much sulfite brings free sulfur dioxide from what was measured to what is wanted: part of every addition binds.</summary>
public static class SulfiteDose
{
    /// <summary>Lower share of an addition that binds once free sulfur dioxide can be measured. [1]</summary>
    public const double LeastBound = 1.0 / 3;

    /// <summary>Higher share. [1]</summary>
    public const double MostBound = 0.5;

    /// <summary>Addition, as total sulfur dioxide, for a rise of the free. [mg/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> (wanted − measured)/(1 − bound), bound from one third to one half.</para>
    /// <para><b>Valid.</b> Some free sulfur dioxide was measured. With none (below 1 mg/L) all of an addition may bind: null, and the way
    /// is to dose, wait a day and measure again. Sweet wine and mead bind more than dry wine.</para>
    /// <para><b>Error.</b> The range itself. The lesser is added first; a day later it is measured and the rest follows.</para>
    /// <para><b>Source.</b> Rules of thumb, printed by winemakers' clubs. <b>Check.</b> SulfiteDoseTests.</para>
    /// </remarks>
    /// <returns>The addition; none when there is enough; null when nothing free was measured.</returns>
    public static SulfiteAddition? For(MassConcentration freeMeasured, MassConcentration freeWanted)
    {
        var rise = Math.Max(0, freeWanted.MilligramsPerLiter - freeMeasured.MilligramsPerLiter);
        return freeMeasured.MilligramsPerLiter < 1 && rise > 0
            ? null
            : new(
                MassConcentration.FromMilligramsPerLiter(rise / (1 - LeastBound)),
                MassConcentration.FromMilligramsPerLiter(rise / (1 - MostBound)));
    }

    /// <summary>Free sulfur dioxide that an addition leaves: the inverse of <see cref="For"/>. [mg/L]</summary>
    /// <param name="freeMeasured">Before.</param>
    /// <param name="addition">As total sulfur dioxide.</param>
    /// <param name="bound">Share that binds, from 0 to 1.</param>
    public static MassConcentration FreeAfter(MassConcentration freeMeasured, MassConcentration addition, double bound)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(bound);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(bound, 1);
        return MassConcentration.FromMilligramsPerLiter(freeMeasured.MilligramsPerLiter + (addition.MilligramsPerLiter * (1 - bound)));
    }
}

/// <summary>A range of additions, as total sulfur dioxide.</summary>
/// <param name="Least">When little binds: to add first.</param>
/// <param name="Most">When much binds.</param>
public readonly record struct SulfiteAddition(MassConcentration Least, MassConcentration Most);
