namespace FermentWatch.Oenology.Quantities;

/// <summary>pH as a meter shows it: the negative decimal logarithm of the activity of hydrogen ions. Dimensionless.</summary>
/// <remarks>Valid from 0 to 14; musts and wines have about 2.8 to 4.2.</remarks>
public readonly record struct Ph : IComparable<Ph>
{
    private Ph(double value) => Value = value;

    /// <summary>The number.</summary>
    public double Value { get; }

    /// <summary>Builds the quantity.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or outside 0 to 14.</exception>
    public static Ph FromValue(double value) => new(QuantityRange.Require(value, 0, 14, "pH", "(0 to 14)"));

    /// <inheritdoc/>
    public int CompareTo(Ph other) => Value.CompareTo(other.Value);

    /// <summary>More acidic than.</summary>
    public static bool operator <(Ph left, Ph right) => left.Value < right.Value;

    /// <summary>Less acidic than.</summary>
    public static bool operator >(Ph left, Ph right) => left.Value > right.Value;

    /// <summary>More acidic than or equal.</summary>
    public static bool operator <=(Ph left, Ph right) => left.Value <= right.Value;

    /// <summary>Less acidic than or equal.</summary>
    public static bool operator >=(Ph left, Ph right) => left.Value >= right.Value;
}
