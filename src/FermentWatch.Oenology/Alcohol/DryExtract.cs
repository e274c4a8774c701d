using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Alcohol;

/// <summary>What would stay if alcohol and water were gone: sugar, acids, glycerol, minerals.</summary>
public static class DryExtract
{
    /// <summary>Total dry extract of a wine whose gravity and alcohol were both measured, as sucrose. [g/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> d_r = d_wine − d_alcohol + 1 (Tabarié), all 20/20 °C; the extract is the sucrose in a liter of a solution
    /// of gravity d_r.</para>
    /// <para><b>Valid.</b> Up to 20 % vol and 5 % sugar the measured mixtures agree with it [Hackbarth2009]; in stronger ones the true
    /// mixture is lighter. Beyond 20 % vol: still computed, marked <see cref="Validity.Extrapolated"/>.</para>
    /// <para><b>Error.</b> 0.5 g/L from the formula. An error of 0.1 % vol in the alcohol moves it by 0.35 g/L, one of 0.001 in
    /// the gravity by 2.6 g/L.</para>
    /// <para><b>Source.</b> [OIVAS203B]. <b>Check.</b> DryExtractTests.</para>
    /// </remarks>
    public static Computed<SugarConcentration> Of(SpecificGravity wine, AlcoholByVolume alcohol)
    {
        var alcoholGravity = EthanolSolution.GravityOf(alcohol).Value.Value;
        var ratio = Math.Clamp(wine.Value - alcoholGravity + 1, SpecificGravity.Lowest, SpecificGravity.Highest);
        var extract = SucroseSolution.GramsPerLiterOf(SpecificGravity.FromRatio(ratio));
        return alcohol.Percent > 20
            ? extract with { Tolerance = 3, Validity = Validity.Extrapolated }
            : extract with { Tolerance = Math.Max(0.5, extract.Tolerance) };
    }
}
