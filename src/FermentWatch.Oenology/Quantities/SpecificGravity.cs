namespace FermentWatch.Oenology.Quantities;

/// <summary>Specific gravity 20/20 °C: density of the liquid at 20 °C over that of water at 20 °C. Dimensionless.</summary>
/// <remarks>Valid from 0.7 (about pure ethanol is 0.79) to 1.6 (honey is about 1.42).</remarks>
public readonly record struct SpecificGravity : IComparable<SpecificGravity>
{
    /// <summary>Lowest value that can be built.</summary>
    public const double Lowest = 0.7;

    /// <summary>Highest value that can be built.</summary>
    public const double Highest = 1.6;

    private SpecificGravity(double value) => Value = value;

    /// <summary>The ratio, about 0.98 to 1.18 from finished wine to rich must.</summary>
    public double Value { get; }

    /// <summary>Thousandths above water: 1.090 is 90 points, 0.996 is -4 points.</summary>
    public double Points => (Value - 1) * 1000;

    /// <summary>Builds a gravity from the ratio.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or outside 0.7 to 1.6.</exception>
    public static SpecificGravity FromRatio(double ratio) =>
        new(QuantityRange.Require(ratio, Lowest, Highest, "specific gravity", "(20/20 °C)"));

    /// <summary>Builds a gravity from points, thousandths above water.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or outside -300 to 600 points.</exception>
    public static SpecificGravity FromPoints(double points) => FromRatio(1 + (points / 1000));

    /// <inheritdoc/>
    public int CompareTo(SpecificGravity other) => Value.CompareTo(other.Value);

    /// <summary>Lighter than.</summary>
    public static bool operator <(SpecificGravity left, SpecificGravity right) => left.Value < right.Value;

    /// <summary>Heavier than.</summary>
    public static bool operator >(SpecificGravity left, SpecificGravity right) => left.Value > right.Value;

    /// <summary>Lighter than or equal.</summary>
    public static bool operator <=(SpecificGravity left, SpecificGravity right) => left.Value <= right.Value;

    /// <summary>Heavier than or equal.</summary>
    public static bool operator >=(SpecificGravity left, SpecificGravity right) => left.Value >= right.Value;
}
