namespace FermentWatch.Oenology.Quantities;

/// <summary>Mass of sucrose in 100 g of a solution of the same density at 20 °C. On such a solution °Brix is the same number.</summary>
/// <remarks>Valid from -12 to 85 °P.</remarks>
public readonly record struct Plato : IComparable<Plato>
{
    private Plato(double value) => Degrees = value;

    /// <summary>The value in degrees Plato.</summary>
    public double Degrees { get; }

    /// <summary>Builds the quantity. [°P]</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or outside -12 to 85 °P.</exception>
    public static Plato FromDegrees(double value) => new(QuantityRange.Require(value, -12, 85, "extract", "°P"));

    /// <inheritdoc/>
    public int CompareTo(Plato other) => Degrees.CompareTo(other.Degrees);

    /// <summary>Less than.</summary>
    public static bool operator <(Plato left, Plato right) => left.Degrees < right.Degrees;

    /// <summary>More than.</summary>
    public static bool operator >(Plato left, Plato right) => left.Degrees > right.Degrees;

    /// <summary>Less than or equal.</summary>
    public static bool operator <=(Plato left, Plato right) => left.Degrees <= right.Degrees;

    /// <summary>More than or equal.</summary>
    public static bool operator >=(Plato left, Plato right) => left.Degrees >= right.Degrees;
}
