using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Sweetening;

/// <summary>What sweetening does to acid and pH: it thins them, and honey brings a little acid of its own.</summary>
public static class SweetenedAcid
{
    /// <summary>pH and titratable acidity after a sweetener; null for juice, whose own acid is not known. [pH, meq/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> <see cref="AcidBuffer.After"/> for the dilution V₀/V. For honey it is taken twice, with none of its acid and with all
    /// of the mean honey's 29.12 meq/kg as gluconic acid, whose lactones open slowly: the middle is given, half the gap added to the error.</para>
    /// <para><b>Valid.</b> As there; sugar itself is neither acid nor base. Molasses of brown sugar is left out.</para>
    /// <para><b>Error.</b> As there, and half the gap for honey. Honeys hold from 0.3 to 2 times the mean: 20 g/L of the sourest bring 0.09 g/L as
    /// tartaric. <b>Source.</b> Charge balance; honey: [White1962]. <b>Check.</b> SweetenedAcidTests.</para>
    /// </remarks>
    /// <param name="wine">The wine's fitted buffer.</param>
    /// <param name="before">Volume before.</param>
    /// <param name="after">Volume after, at least that before; a smaller one counts as no dilution.</param>
    /// <param name="sweetener">What sweetens.</param>
    /// <param name="kilograms">How much of it, 0 or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">A mass outside 0 to 100000 kg.</exception>
    public static AcidPrediction? Of(AcidBuffer wine, Volume before, Volume after, Sweetener sweetener, double kilograms)
    {
        ArgumentNullException.ThrowIfNull(wine);
        ArgumentNullException.ThrowIfNull(sweetener);
        QuantityRange.Require(kilograms, 0, 100_000, "sweetener", "kg");
        var thinned = AcidChange.DilutionBy(Math.Min(1, before.Liters / after.Liters));
        if (sweetener.Kind is SweetenerKind.Concentrate)
        {
            return null;
        }

        var without = wine.After(thinned);
        if (sweetener.Kind is not SweetenerKind.Honey)
        {
            return without;
        }

        var honey = HoneyAcidity.Of(MassConcentration.FromGramsPerLiter(1000 * kilograms / after.Liters));
        var grams = honey.Value.MilliequivalentsPerLiter / 1000 * WeakAcid.Gluconic.GramsPerEquivalent;
        var with = wine.After(thinned.And(AcidChange.Addition(WeakAcid.Gluconic, MassConcentration.FromGramsPerLiter(grams))));
        return Middle(without, with);
    }

    private static AcidPrediction Middle(AcidPrediction without, AcidPrediction with)
    {
        var (ph, otherPh) = (without.Ph.Value.Value, with.Ph.Value.Value);
        var (acidity, otherAcidity) = (without.Acidity.Value.MilliequivalentsPerLiter, with.Acidity.Value.MilliequivalentsPerLiter);
        var validity = without.Ph.Validity is Validity.WithinSource ? with.Ph.Validity : without.Ph.Validity;
        return new(
            new(Ph.FromValue((ph + otherPh) / 2), Math.Max(without.Ph.Tolerance, with.Ph.Tolerance) + (Math.Abs(ph - otherPh) / 2), validity),
            new(
                TitratableAcidity.FromMilliequivalentsPerLiter((acidity + otherAcidity) / 2),
                Math.Max(without.Acidity.Tolerance, with.Acidity.Tolerance) + (Math.Abs(acidity - otherAcidity) / 2),
                validity),
            (without.PhChange + with.PhChange) / 2);
    }
}
