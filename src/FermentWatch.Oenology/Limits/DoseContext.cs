using FermentWatch.Oenology.Quantities;
using FermentWatch.Oenology.Sulfite;

namespace FermentWatch.Oenology.Limits;

/// <summary>What a limit may depend on. What is not known stays empty: then the strictest counts.</summary>
/// <param name="AlreadyThere">The same additive already in the wine, from the ledger or measured.</param>
/// <param name="Color">Color of the wine; mead and cider count as white.</param>
/// <param name="SugarGramsPerLiter">Sugar left; null when it is not known. [g/L]</param>
public readonly record struct DoseContext(MassConcentration AlreadyThere = default, WineColor Color = WineColor.Unknown, double? SugarGramsPerLiter = null)
{
    /// <summary>Nothing added so far, nothing known.</summary>
    public static DoseContext Unknown => default;
}
