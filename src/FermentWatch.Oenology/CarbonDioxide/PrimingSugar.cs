using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.CarbonDioxide;

/// <summary>A sugar for a second ferment in the bottle.</summary>
public enum PrimingKind
{
    /// <summary>Table sugar.</summary>
    Sucrose = 1,

    /// <summary>Dextrose as sold, with its water of crystallization.</summary>
    Dextrose,

    /// <summary>Dextrose without water.</summary>
    DextroseAnhydrous,

    /// <summary>Honey.</summary>
    Honey,
}

/// <summary>Sugar that gives a wanted amount of gas.</summary>
public static class PrimingSugar
{
    /// <summary>Sugar of honey that yeast takes, as glucose and fructose, in its dry matter: 0.946 (78.3 of 82.8 g, [WhiteDoner1980], sucrose and maltose counted as they split). [g/g]</summary>
    public const double HoneyHexoseOfDryMatter = 0.946;

    /// <summary>Sugar that a percent of alcohol takes, as glucose and fructose: the factor agreed in the European Union. [g/L per % vol]</summary>
    public const double HexosePerAlcoholPercent = 16.83;

    /// <summary>Carbon dioxide of a gram of the sugar. [g/g]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> Stoichiometry of <see cref="CarbonDioxideYield"/>; honey: 0.4886 · 0.946 · (1 − water).</para>
    /// <para><b>Valid.</b> Water of honey from 13 to 25 %. <b>Error.</b> An upper bound, 5 % above practice; honey ±4 %.</para>
    /// <para><b>Source.</b> Standard atomic masses, [WhiteDoner1980]. <b>Check.</b> PrimingSugarTests.</para>
    /// </remarks>
    /// <param name="kind">Which sugar.</param>
    /// <param name="honeyWater">Water of the honey as a share, 0.172 on average; not used for the others.</param>
    /// <exception cref="ArgumentOutOfRangeException">Water of honey outside 0 to 0.5.</exception>
    public static double CarbonDioxidePerGram(PrimingKind kind, double honeyWater)
    {
        if (kind is PrimingKind.Honey && honeyWater is not (>= 0 and <= 0.5))
        {
            throw new ArgumentOutOfRangeException(nameof(honeyWater), honeyWater, "The water of honey must be a share from 0 to 0.5.");
        }

        return kind switch
        {
            PrimingKind.Sucrose => CarbonDioxideYield.PerSucrose,
            PrimingKind.Dextrose => CarbonDioxideYield.PerDextroseMonohydrate,
            PrimingKind.Honey => CarbonDioxideYield.PerHexose * HoneyHexoseOfDryMatter * (1 - honeyWater),
            _ => CarbonDioxideYield.PerHexose,
        };
    }

    /// <summary>Sugar for a liter. Nothing when the gas is already there. [g/L]</summary>
    /// <remarks><para><b>Equation.</b> (wanted − there) / yield. <b>Error.</b> That of both amounts of gas over the yield, and 5 %.
    /// <b>Check.</b> PrimingSugarTests.</para></remarks>
    /// <param name="wanted">Gas wanted in all, for a liter.</param>
    /// <param name="there">Gas that is there.</param>
    /// <param name="kind">Which sugar.</param>
    /// <param name="honeyWater">Water of the honey as a share.</param>
    public static Computed<MassConcentration> For(Computed<MassConcentration> wanted, Computed<MassConcentration> there, PrimingKind kind, double honeyWater)
    {
        var yield = CarbonDioxidePerGram(kind, honeyWater);
        var grams = Math.Max(0, wanted.Value.GramsPerLiter - there.Value.GramsPerLiter) / yield;
        var error = Math.Sqrt((wanted.Tolerance * wanted.Tolerance) + (there.Tolerance * there.Tolerance)) / yield;
        var validity = wanted.Validity is Validity.Extrapolated || there.Validity is Validity.Extrapolated ? Validity.Extrapolated : Validity.WithinSource;
        return new(MassConcentration.FromGramsPerLiter(grams), error + (0.05 * 1000 * grams), validity);
    }
}
