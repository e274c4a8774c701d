using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Alcohol;

/// <summary>Alcohol and sugar from two gravities, by the balance of mass: what left the must as gas and yeast, what stayed.</summary>
public static class MassBalance
{
    /// <summary>Stated error of the alcohol. [% vol]</summary>
    public const double AlcoholTolerancePercent = 0.5;

    /// <summary>Stated error of the real extract. [g/L]</summary>
    public const double RealExtractToleranceGramsPerLiter = 3;

    /// <summary>Stated error of every sugar estimate: mostly that of the extract which is not sugar. [g/L]</summary>
    public const double SugarToleranceGramsPerLiter = 12.5;

    /// <summary>Acids, minerals and other extract of a must that is not sugar. [g/L]</summary>
    public const double NonSugarOfMustGramsPerLiter = 12;

    /// <summary>Glycerol and other by-products that stay, for every percent of alcohol formed. [g/L per % vol]</summary>
    public const double NonSugarPerPercentGramsPerLiter = 0.7;

    private const double HighestCheckedOriginal = 1.175;
    private const double LowestCheckedPresent = 0.980;

    /// <summary>Alcohol formed, real extract and an estimate of the sugar left. [% vol, g/L, g/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> E₀ = °Plato of the original gravity, 100 g of must. Of a g ethanol formed, 1.0665 a g leave as gas and
    /// yeast (Balling): m = 100 − 1.0665 a, A = a/m, R = (E₀ − 2.0665 a)/m. The present gravity s fixes a by Tabarié's rule on
    /// volume: s = s_alcohol(q) + s_extract(c) − 1, q = A·s·998.2012/789.24, c = R·s·998.2012 g/L. Alcohol is 100 q, real extract c.</para>
    /// <para><b>Sugar.</b> Sugar left = c − (12 g/L + 0.7 g/L for each % vol), never below 0; sugar at start = extract of the original
    /// gravity − 12 g/L. What is taken off is the extract that is not sugar: acids and minerals of the must, then glycerol and acids of
    /// the yeast, of which glycerol alone is about 0.5 g/L for each % vol in wine (from memory) and 0.76 in a measured mead [Gomes2013].
    /// The sum is fixed to measurements: 19.4 g/L at 10.5 % vol, where 4,898 analyzed white wines have 19.3 ± 2.4 and 1,599 reds
    /// 30.0 ± 3.9 [Cortez2009]. The kind of must is not asked for: mead begins with less, red wine with more, and both are inside the
    /// stated error in most cases.</para>
    /// <para><b>Valid.</b> Original 1.000 to 1.175, present from 0.980 up to the original, alcohol up to 20 % vol. Outside: still
    /// computed, marked <see cref="Validity.Extrapolated"/>. A present gravity above the original gives no alcohol and the extract of
    /// the present gravity, marked: sugar was added, or the original is wrong.</para>
    /// <para><b>Error.</b> Alcohol ±0.5 % vol: measured beers agree within 0.11 % of mass up to 18 °P [Cutaia2009], no measured set above
    /// that was found; yeast and by-products of 0.04 instead of 0.11 g/g move it by 0.33 at 13 % vol, 0.001 in a gravity by 0.14. Real
    /// extract ±3 g/L: 0.001 in the present gravity is 2.2, in the original 0.4, the yeast term 1.1. Sugar ±12.5 g/L: that and
    /// ±12 g/L for what is not sugar. So below 12.5 g/L the estimate can't tell sugar from none: gravity never proves dryness.</para>
    /// <para><b>Source.</b> [Balling1865] by [Speers], [OIMLR22], [Bubnik1995], [OIVAS203B]. <b>Check.</b> MassBalanceTests.</para>
    /// </remarks>
    public static MassBalanceResult Of(SpecificGravity original, SpecificGravity present)
    {
        var originalFraction = SucrosePolynomial.MassFractionOfGravity(original.Value);
        var extractAtStart = SucrosePolynomial.GramsPerLiterAt20(originalFraction);
        var inOrder = original.Value is >= 1 and <= HighestCheckedOriginal;

        double volumeFraction;
        double extract;
        bool met;
        if (present.Value >= original.Value)
        {
            volumeFraction = 0;
            extract = SucrosePolynomial.GramsPerLiterAt20(SucrosePolynomial.MassFractionOfGravity(present.Value));
            met = present.Value.Equals(original.Value);
        }
        else
        {
            var balance = new BallingBalance(100 * originalFraction, present.Value);
            met = balance.TrySolve(out var ethanol);
            volumeFraction = Math.Clamp(balance.VolumeFraction(ethanol), 0, 1);
            extract = balance.ExtractGramsPerLiter(ethanol);
        }

        var percent = 100 * volumeFraction;
        var validity = met && inOrder && present.Value >= LowestCheckedPresent && percent <= 20 && extract >= 0
            ? Validity.WithinSource
            : Validity.Extrapolated;
        var nonSugar = NonSugarOfMustGramsPerLiter + (NonSugarPerPercentGramsPerLiter * percent);
        return new(
            new(AlcoholByVolume.FromPercent(percent), AlcoholTolerancePercent, validity),
            new(GramsPerLiter(extract), RealExtractToleranceGramsPerLiter, validity),
            new(GramsPerLiter(Math.Max(0, extract - nonSugar)), SugarToleranceGramsPerLiter, validity),
            new(
                GramsPerLiter(Math.Max(0, extractAtStart - NonSugarOfMustGramsPerLiter)),
                SugarToleranceGramsPerLiter,
                inOrder ? Validity.WithinSource : Validity.Extrapolated));
    }

    private static SugarConcentration GramsPerLiter(double value) => SugarConcentration.FromGramsPerLiter(Math.Clamp(value, -100, 1500));
}
