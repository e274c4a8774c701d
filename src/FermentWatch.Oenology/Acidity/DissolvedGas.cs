using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Acidity;

/// <summary>Carbon dioxide in a sample that was not degassed.</summary>
public static class DissolvedGas
{
    /// <summary>What it adds to a titration. [meq/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> Charge of carbonic acid at the end point by <see cref="ChargeBalance.At"/>; at pH 3 to 4 it has none.</para>
    /// <para><b>Valid.</b> All gas stays in the flask: an upper bound, stirring drives much of it out. 1.46 g/L, a dry wine full of gas at
    /// 20 °C, counts as up to 2.5 g/L as tartaric to pH 8.2.</para>
    /// <para><b>Error.</b> 5 % of it. <b>Source.</b> [PHREEQC] constants. <b>Check.</b> DissolvedGasTests.</para>
    /// </remarks>
    public static TitratableAcidity CountsAs(MassConcentration carbonDioxide, TitrationEndPoint endPoint, AlcoholByVolume alcohol)
    {
        var end = new AcidMeasurement(default, default, alcohol, endPoint).EndPh;
        var solvent = Solvent.Of(alcohol);
        var with = ChargeBalance.At(AcidMixture.OfGramsPerLiter((WeakAcid.Carbonic, carbonDioxide.GramsPerLiter)), end, solvent).NetCationMolesPerLiter;
        var without = ChargeBalance.At(AcidMixture.Empty, end, solvent).NetCationMolesPerLiter;
        return TitratableAcidity.FromMilliequivalentsPerLiter(Math.Clamp(1000 * (with - without), 0, 1000));
    }
}
