using FermentWatch.Oenology.Acidity;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Sulfite;

/// <summary>pKa of the first dissociation of sulfurous acid: how much of free sulfite is molecular at a pH.</summary>
/// <remarks>
/// <para>Two families of data disagree about temperature: the table of OIV rises by 0.20 in 5 °C, thermodynamic data by 0.05. Both are
/// near 1.80 in water at 20 °C. A higher pKa means more molecular sulfur dioxide, so the fixed 1.81 asks for more sulfite than the table
/// does: it errs toward protection, and the total limit needs watching.</para>
/// </remarks>
public static class SulfurDioxideDissociation
{
    /// <summary>The fixed pKa that printed tables of free sulfite stand on [UCCE1982].</summary>
    public const double Usual = 1.81;

    /// <summary>Error of the fixed pKa: printed tables use 1.77 too, thermodynamic data give 1.86 at 25 °C.</summary>
    public const double UsualTolerance = 0.05;

    /// <summary>pKa of the second dissociation, 25 °C [PHREEQC]: below pH 4 less than 0.2 % of the free is sulfite ion, so it is left out.</summary>
    public const double Second = 7.205;

    /// <summary>Mean ionic strength that the method of OIV takes for wine. [mol/L]</summary>
    public const double OivIonicStrength = 0.038;

    /// <summary>pKa in water by thermodynamic data, to compare. [1]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> Van 't Hoff: pK(T) = 1.860 + ΔH/(R ln 10)·(1/T − 1/298.15), ΔH = −17.4 kJ/mol: 1.754 at 15 °C.</para>
    /// <para><b>Valid.</b> 5 to 40 °C, no alcohol, ionic strength 0. Outside: marked <see cref="Validity.Extrapolated"/>.</para>
    /// <para><b>Error.</b> 0.02. <b>Source.</b> [PHREEQC], data set llnl. <b>Check.</b> SulfurDioxideDissociationTests.</para>
    /// </remarks>
    public static Computed<PKa> InWater(Temperature temperature)
    {
        const double GasConstant = 8.314_462_618;
        const double Enthalpy = -17_400;
        const double At25 = 1.860;
        var value = At25 + (Enthalpy / (GasConstant * Math.Log(10)) * ((1 / temperature.Kelvin) - (1 / 298.15)));
        return new(new(value), 0.02, temperature.Celsius is >= 5 and <= 40 ? Validity.WithinSource : Validity.Extrapolated);
    }

    /// <summary>pKa at ionic strength 0 by the table of OIV. [1]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> Table I, linear between its points (0, 5, 10, 15 % vol; 20, 25, 30, 35, 40 °C).</para>
    /// <para><b>Valid.</b> 0 to 15 % vol and 20 to 40 °C. Outside null: never continued, also not to a cellar of 12 °C.</para>
    /// <para><b>Error.</b> 0.001 at the points, 0.03 between (from how the table bends); against thermodynamic data up to 0.3 at 40 °C.</para>
    /// <para><b>Source.</b> [OIVAS32304C] table I, data of Usseglio-Tomasset and Bosia. <b>Check.</b> SulfurDioxideDissociationTests.</para>
    /// </remarks>
    public static double? OivThermodynamic(AlcoholByVolume alcohol, Temperature temperature)
    {
        if (alcohol.Percent > 15 || temperature.Celsius is < 20 or > 40)
        {
            return null;
        }

        var (row, down) = Place(alcohol.Percent / 5, OivTable.GetLength(0));
        var (column, across) = Place((temperature.Celsius - 20) / 5, OivTable.GetLength(1));
        var low = OivTable[row, column] + (across * (OivTable[row, column + 1] - OivTable[row, column]));
        var high = OivTable[row + 1, column] + (across * (OivTable[row + 1, column + 1] - OivTable[row + 1, column]));
        return low + (down * (high - low));
    }

    /// <summary>pKa to use with a measured pH, by the method of OIV. [1]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> <see cref="OivThermodynamic"/> + log γ of a single charge at ionic strength 0.038, by Davies with A of the
    /// alcohol: 0.077 to 0.087 lower.</para>
    /// <para><b>Valid.</b> As the table; null outside. <b>Error.</b> 0.01 against the four values of table II that are known (from memory).</para>
    /// <para><b>Source.</b> [OIVAS32304C] clause 2. <b>Check.</b> SulfurDioxideDissociationTests.</para>
    /// </remarks>
    public static double? Oiv(AlcoholByVolume alcohol, Temperature temperature) => OivThermodynamic(alcohol, temperature) is { } value
        ? value + Math.Log10(Solvent.Of(alcohol).ActivityOf(1, OivIonicStrength))
        : null;

    // Rows 0, 5, 10, 15 % vol; columns 20, 25, 30, 35, 40 °C.
    private static readonly double[,] OivTable =
    {
        { 1.798, 2.000, 2.219, 2.334, 2.493 },
        { 1.897, 2.098, 2.299, 2.397, 2.527 },
        { 1.997, 2.198, 2.394, 2.488, 2.606 },
        { 2.099, 2.301, 2.503, 2.607, 2.728 },
    };

    private static (int Index, double Share) Place(double at, int count)
    {
        var index = Math.Clamp((int)Math.Floor(at), 0, count - 2);
        return (index, at - index);
    }
}

/// <summary>A dissociation constant as its negative decimal logarithm.</summary>
/// <param name="Value">The number.</param>
public readonly record struct PKa(double Value);
