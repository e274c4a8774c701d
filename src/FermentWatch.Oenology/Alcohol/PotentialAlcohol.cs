using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Alcohol;

/// <summary>Alcohol that sugar would give if all of it fermented: a range, because yeasts and musts differ.</summary>
/// <param name="Lowest">At 18 g/L of sugar for each % vol.</param>
/// <param name="Agreed">At 16.83 g/L, the agreed figure.</param>
/// <param name="Highest">At 16.5 g/L.</param>
public readonly record struct PotentialAlcohol(AlcoholByVolume Lowest, AlcoholByVolume Agreed, AlcoholByVolume Highest)
{
    /// <summary>Sugar for one percent of alcohol by agreement. [g/L per % vol]</summary>
    public const double AgreedGramsPerLiter = 16.83;

    /// <summary>The round figure of the trade. [g/L per % vol]</summary>
    public const double RoundGramsPerLiter = 17;

    private const double MostGramsPerLiter = 18;
    private const double LeastGramsPerLiter = 16.5;

    /// <summary>Potential alcohol of fermentable sugar. [% vol]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> A = S/k, S in g/L, k = 18, 16.83 and 16.5 g/L for each % vol.</para>
    /// <para><b>Valid.</b> Sugar of 0 to 350 g/L; above, most yeasts stop before the sugar is gone. Held to 0 to 100 % vol.</para>
    /// <para><b>Error.</b> The range itself: about ±0.5 % vol at 200 g/L.</para>
    /// <para><b>Source.</b> 16.83 and yeasts of 16.5 to 17.2: [WINETECH2020]; 16.5 and 18: [AWRIPotential], table 1. 17 is [CIVB].
    /// <b>Check.</b> PotentialAlcoholTests.</para>
    /// </remarks>
    public static PotentialAlcohol Of(SugarConcentration sugar) => new(
        At(sugar, MostGramsPerLiter), At(sugar, AgreedGramsPerLiter), At(sugar, LeastGramsPerLiter));

    /// <summary>Potential alcohol of a must by its gravity; what is not sugar is taken off first. [% vol]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> S = extract of the gravity as sucrose − 12 g/L (<see cref="MassBalance.NonSugarOfMustGramsPerLiter"/>), never below 0.</para>
    /// <para><b>Error.</b> Beyond the range, ±0.7 % vol for the 12 g/L that are not sugar.</para>
    /// <para><b>Source.</b> As for <see cref="Of"/>, and [Bubnik1995]. <b>Check.</b> PotentialAlcoholTests.</para>
    /// </remarks>
    public static PotentialAlcohol OfMust(SpecificGravity must) => Of(SugarOfMust(must));

    /// <summary>Potential alcohol by the round figure of 17 g/L, for comparison with tables that use it. [% vol]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> A = S/17. <b>Valid.</b> As for <see cref="Of"/>. <b>Error.</b> As for the range there.
    /// <b>Source.</b> [CIVB]. <b>Check.</b> PotentialAlcoholTests.</para>
    /// </remarks>
    public static AlcoholByVolume ByRoundFigure(SugarConcentration sugar) => At(sugar, RoundGramsPerLiter);

    /// <summary>Fermentable sugar of a must by its gravity, what is not sugar taken off. [g/L]</summary>
    /// <remarks>Equation, error and source as for <see cref="OfMust"/>.</remarks>
    public static SugarConcentration SugarOfMust(SpecificGravity must) => SugarConcentration.FromGramsPerLiter(
        Math.Max(0, SucroseSolution.GramsPerLiterOf(must).Value.GramsPerLiter - MassBalance.NonSugarOfMustGramsPerLiter));

    private static AlcoholByVolume At(SugarConcentration sugar, double gramsPerPercent) =>
        AlcoholByVolume.FromPercent(Math.Clamp(sugar.GramsPerLiter / gramsPerPercent, 0, 100));
}
