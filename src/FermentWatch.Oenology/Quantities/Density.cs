namespace FermentWatch.Oenology.Quantities;

/// <summary>Mass of a liter or cubic meter of liquid at the temperature that its maker states.</summary>
/// <remarks>Valid from 600 to 1700 kg/m³.</remarks>
public readonly record struct Density : IComparable<Density>
{
    private Density(double value) => KilogramsPerCubicMeter = value;

    /// <summary>The density in kilograms per cubic meter.</summary>
    public double KilogramsPerCubicMeter { get; }

    /// <summary>Builds the quantity. [kg/m³]</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or outside 600 to 1700 kg/m³.</exception>
    public static Density FromKilogramsPerCubicMeter(double value) => new(QuantityRange.Require(value, 600, 1700, "density", "kg/m³"));

    /// <inheritdoc/>
    public int CompareTo(Density other) => KilogramsPerCubicMeter.CompareTo(other.KilogramsPerCubicMeter);

    /// <summary>Less than.</summary>
    public static bool operator <(Density left, Density right) => left.KilogramsPerCubicMeter < right.KilogramsPerCubicMeter;

    /// <summary>More than.</summary>
    public static bool operator >(Density left, Density right) => left.KilogramsPerCubicMeter > right.KilogramsPerCubicMeter;

    /// <summary>Less than or equal.</summary>
    public static bool operator <=(Density left, Density right) => left.KilogramsPerCubicMeter <= right.KilogramsPerCubicMeter;

    /// <summary>More than or equal.</summary>
    public static bool operator >=(Density left, Density right) => left.KilogramsPerCubicMeter >= right.KilogramsPerCubicMeter;
}
