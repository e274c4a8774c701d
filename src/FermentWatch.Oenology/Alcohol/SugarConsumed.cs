using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Alcohol;

/// <summary>The share of a must's sugar that the yeast has used.</summary>
public static class SugarConsumed
{
    /// <summary>Share of the sugar at the start that is gone, 0 to 1. Dimensionless.</summary>
    /// <remarks>
    /// <para><b>Equation.</b> 1 − sugar left / sugar at start, both by <see cref="MassBalance.Of"/>.</para>
    /// <para><b>Valid.</b> Where the must had more than 12.5 g/L of sugar; below: 0, marked <see cref="Validity.Extrapolated"/>.</para>
    /// <para><b>Error.</b> 12.5 g/L over the sugar at the start: 0.05 at 240 g/L.</para>
    /// <para><b>Source.</b> As for <see cref="MassBalance"/>. <b>Check.</b> PotentialAlcoholTests.</para>
    /// </remarks>
    public static Computed<double> Of(SpecificGravity original, SpecificGravity present)
    {
        var balance = MassBalance.Of(original, present);
        var start = balance.SugarAtStart.Value.GramsPerLiter;
        return start <= MassBalance.SugarToleranceGramsPerLiter
            ? new(0, 1, Validity.Extrapolated)
            : new(
                Math.Clamp(1 - (balance.SugarLeft.Value.GramsPerLiter / start), 0, 1),
                MassBalance.SugarToleranceGramsPerLiter / start,
                balance.SugarLeft.Validity);
    }

    /// <summary>The gravity at which this share of the sugar is gone. Dimensionless.</summary>
    /// <param name="original">Original gravity.</param>
    /// <param name="share">0 to 0.95: nearer to the end a gravity can't tell.</param>
    /// <remarks>The inverse of <see cref="Of"/> by bisection, error 0.003. A third is gone at about 1.063 of 1.090.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">The share is outside 0 to 0.95.</exception>
    public static Computed<SpecificGravity> GravityAt(SpecificGravity original, double share)
    {
        QuantityRange.Require(share, 0, 0.95, "share of the sugar", "(0 to 1)");
        var (low, high) = (Math.Min(0.95, original.Value), original.Value);
        for (var i = 0; i < 60; i++)
        {
            var middle = (low + high) / 2;
            (low, high) = Of(original, SpecificGravity.FromRatio(middle)).Value > share ? (middle, high) : (low, middle);
        }

        return new(SpecificGravity.FromRatio(high), 0.003, original.Value is >= 1.02 and <= 1.175 ? Validity.WithinSource : Validity.Extrapolated);
    }
}
