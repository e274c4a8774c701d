using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Density;

/// <summary>Older scales of must hydrometers: °Oechsle and °Baumé.</summary>
public static class TradeScales
{
    private const double BaumeModulus = 145;

    /// <summary>°Oechsle of a gravity: thousandths above water, 20/20 °C. [°Oe]</summary>
    /// <remarks>°Oe = 1000·(s − 1), exact. Swiss and German must scales are made for 20 °C; an old one for 15 °C shows the same must 0.2 °Oe higher.</remarks>
    public static double OechsleOf(SpecificGravity gravity) => gravity.Points;

    /// <summary>Gravity of so many °Oechsle. Dimensionless.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or outside -300 to 600 °Oe.</exception>
    public static SpecificGravity GravityOfOechsle(double degrees) => SpecificGravity.FromPoints(degrees);

    /// <summary>°Baumé of a gravity. [°Bé]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> Bé = 145 − 145/s, taken with s 20/20 °C; below water it is negative.</para>
    /// <para><b>Valid.</b> Every gravity. <b>Error.</b> 0.1 °Bé: the scale is defined at 60/60 °F, where must is 0.0003 heavier (0.04 °Bé),
    /// and moduli of 144.3 to 146 circulate.</para>
    /// <para><b>Source.</b> Modulus 145 from memory; common practice. <b>Check.</b> WorksheetCatalogTests (gravity-scales).</para>
    /// </remarks>
    public static double BaumeOf(SpecificGravity gravity) => BaumeModulus - (BaumeModulus / gravity.Value);

    /// <summary>Gravity of so many °Baumé, the inverse of <see cref="BaumeOf"/>. Dimensionless.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or outside -60 to 54 °Bé.</exception>
    public static SpecificGravity GravityOfBaume(double degrees) =>
        SpecificGravity.FromRatio(BaumeModulus / (BaumeModulus - QuantityRange.Require(degrees, -60, 54, "extract", "°Bé")));

    /// <summary>Gravity 20/20 °C of a liquid of so many g/L sucrose. Dimensionless.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Outside -80 to 1190 g/L.</exception>
    public static SpecificGravity GravityOf(SugarConcentration extract) => SpecificGravity.FromRatio(
        SucrosePolynomial.GravityOfGramsPerLiter(QuantityRange.Require(extract.GramsPerLiter, -100, 1190, "extract", "g/L")));
}
