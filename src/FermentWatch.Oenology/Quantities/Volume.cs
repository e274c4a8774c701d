namespace FermentWatch.Oenology.Quantities;

/// <summary>A volume of must, wine or mead.</summary>
/// <remarks>Valid from 0 to 100000 L.</remarks>
public readonly record struct Volume : IComparable<Volume>
{
    private Volume(double value) => Liters = value;

    /// <summary>The volume in liters.</summary>
    public double Liters { get; }

    /// <summary>Builds the quantity. [L]</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or outside 0 to 100000 L.</exception>
    public static Volume FromLiters(double value) => new(QuantityRange.Require(value, 0, 100000, "volume", "L"));

    /// <inheritdoc/>
    public int CompareTo(Volume other) => Liters.CompareTo(other.Liters);

    /// <summary>Less than.</summary>
    public static bool operator <(Volume left, Volume right) => left.Liters < right.Liters;

    /// <summary>More than.</summary>
    public static bool operator >(Volume left, Volume right) => left.Liters > right.Liters;

    /// <summary>Less than or equal.</summary>
    public static bool operator <=(Volume left, Volume right) => left.Liters <= right.Liters;

    /// <summary>More than or equal.</summary>
    public static bool operator >=(Volume left, Volume right) => left.Liters >= right.Liters;
}
