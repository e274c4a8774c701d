namespace FermentWatch.Oenology.Quantities;

/// <summary>Sugar dissolved in a liter of liquid at 20 °C, as sucrose-equivalent extract.</summary>
/// <remarks>Valid from -100 to 1500 g/L.</remarks>
public readonly record struct SugarConcentration : IComparable<SugarConcentration>
{
    private SugarConcentration(double value) => GramsPerLiter = value;

    /// <summary>The concentration in grams per liter.</summary>
    public double GramsPerLiter { get; }

    /// <summary>Builds the quantity. [g/L]</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or outside -100 to 1500 g/L.</exception>
    public static SugarConcentration FromGramsPerLiter(double value) => new(QuantityRange.Require(value, -100, 1500, "sugar", "g/L"));

    /// <inheritdoc/>
    public int CompareTo(SugarConcentration other) => GramsPerLiter.CompareTo(other.GramsPerLiter);

    /// <summary>Less than.</summary>
    public static bool operator <(SugarConcentration left, SugarConcentration right) => left.GramsPerLiter < right.GramsPerLiter;

    /// <summary>More than.</summary>
    public static bool operator >(SugarConcentration left, SugarConcentration right) => left.GramsPerLiter > right.GramsPerLiter;

    /// <summary>Less than or equal.</summary>
    public static bool operator <=(SugarConcentration left, SugarConcentration right) => left.GramsPerLiter <= right.GramsPerLiter;

    /// <summary>More than or equal.</summary>
    public static bool operator >=(SugarConcentration left, SugarConcentration right) => left.GramsPerLiter >= right.GramsPerLiter;
}
