namespace FermentWatch.Oenology.Quantities;

/// <summary>Acid that a base neutralizes up to the end point of the titration, in equivalents; a mass needs the acid it is expressed as.</summary>
/// <remarks>
/// <para>Valid from 0 to 1000 meq/L (75 g/L as tartaric acid). A wine has about 60 to 120.</para>
/// <para>It is not the sum of all acid: what is bound to potassium at the start is not titrated. Laboratories titrate to pH 7.0 (OIV) or
/// 8.2 (most in the United States and Australia); the end point belongs to the measurement.</para>
/// </remarks>
public readonly record struct TitratableAcidity : IComparable<TitratableAcidity>
{
    private TitratableAcidity(double value) => MilliequivalentsPerLiter = value;

    /// <summary>The acidity in milliequivalents per liter.</summary>
    public double MilliequivalentsPerLiter { get; }

    /// <summary>Builds the quantity. [meq/L]</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or outside 0 to 1000 meq/L.</exception>
    public static TitratableAcidity FromMilliequivalentsPerLiter(double value) => new(QuantityRange.Require(value, 0, 1000, "titratable acidity", "meq/L"));

    /// <summary>Builds the quantity from grams per liter of the acid it is expressed as.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, negative, or more than 1000 meq/L.</exception>
    public static TitratableAcidity FromGramsPerLiter(double value, AcidBasis basis) => FromMilliequivalentsPerLiter(value / basis.GramsPerEquivalent() * 1000);

    /// <summary>The acidity expressed as an acid. [g/L]</summary>
    /// <remarks>
    /// <para><b>Equation.</b> g/L = (meq/L) / 1000 · M/n, M the molar mass of the acid, n the protons it gives.</para>
    /// <para><b>Valid.</b> Everywhere: exact arithmetic. It says nothing about which acids the wine holds.</para>
    /// <para><b>Error.</b> None beyond the titration's, usually ±0.1 g/L as tartaric at home (from memory).</para>
    /// <para><b>Source.</b> Atomic masses. <b>Check.</b> TitratableAcidityTests.</para>
    /// </remarks>
    public double GramsPerLiter(AcidBasis basis) => MilliequivalentsPerLiter / 1000 * basis.GramsPerEquivalent();

    /// <inheritdoc/>
    public int CompareTo(TitratableAcidity other) => MilliequivalentsPerLiter.CompareTo(other.MilliequivalentsPerLiter);

    /// <summary>Less than.</summary>
    public static bool operator <(TitratableAcidity left, TitratableAcidity right) => left.MilliequivalentsPerLiter < right.MilliequivalentsPerLiter;

    /// <summary>More than.</summary>
    public static bool operator >(TitratableAcidity left, TitratableAcidity right) => left.MilliequivalentsPerLiter > right.MilliequivalentsPerLiter;

    /// <summary>Less than or equal.</summary>
    public static bool operator <=(TitratableAcidity left, TitratableAcidity right) => left.MilliequivalentsPerLiter <= right.MilliequivalentsPerLiter;

    /// <summary>More than or equal.</summary>
    public static bool operator >=(TitratableAcidity left, TitratableAcidity right) => left.MilliequivalentsPerLiter >= right.MilliequivalentsPerLiter;
}
