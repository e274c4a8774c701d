namespace FermentWatch.Oenology.Quantities;

/// <summary>Mass of a substance in a liter of must, wine or mead: sulfite, sorbate, an acid, a dose.</summary>
/// <remarks>Valid from 0 to 2000 g/L.</remarks>
public readonly record struct MassConcentration : IComparable<MassConcentration>
{
    private MassConcentration(double value) => MilligramsPerLiter = value;

    /// <summary>Nothing dissolved.</summary>
    public static MassConcentration None => default;

    /// <summary>The concentration in milligrams per liter.</summary>
    public double MilligramsPerLiter { get; }

    /// <summary>The concentration in grams per liter.</summary>
    public double GramsPerLiter => MilligramsPerLiter / 1000;

    /// <summary>Builds the quantity. [mg/L]</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or outside 0 to 2000000 mg/L.</exception>
    public static MassConcentration FromMilligramsPerLiter(double value) => new(QuantityRange.Require(value, 0, 2_000_000, "concentration", "mg/L"));

    /// <summary>Builds the quantity. [g/L]</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or outside 0 to 2000 g/L.</exception>
    public static MassConcentration FromGramsPerLiter(double value) => new(1000 * QuantityRange.Require(value, 0, 2000, "concentration", "g/L"));

    /// <summary>Grams of the substance in a volume. [g]</summary>
    public double GramsIn(Volume volume) => GramsPerLiter * volume.Liters;

    /// <inheritdoc/>
    public int CompareTo(MassConcentration other) => MilligramsPerLiter.CompareTo(other.MilligramsPerLiter);

    /// <summary>Less than.</summary>
    public static bool operator <(MassConcentration left, MassConcentration right) => left.MilligramsPerLiter < right.MilligramsPerLiter;

    /// <summary>More than.</summary>
    public static bool operator >(MassConcentration left, MassConcentration right) => left.MilligramsPerLiter > right.MilligramsPerLiter;

    /// <summary>Less than or equal.</summary>
    public static bool operator <=(MassConcentration left, MassConcentration right) => left.MilligramsPerLiter <= right.MilligramsPerLiter;

    /// <summary>More than or equal.</summary>
    public static bool operator >=(MassConcentration left, MassConcentration right) => left.MilligramsPerLiter >= right.MilligramsPerLiter;
}
