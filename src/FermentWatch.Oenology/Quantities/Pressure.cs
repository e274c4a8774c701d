namespace FermentWatch.Oenology.Quantities;

/// <summary>A pressure, absolute: of a gas alone, or of everything in a bottle. A gauge shows it above that of the air.</summary>
/// <remarks>Valid from 0 to 100 bar absolute.</remarks>
public readonly record struct Pressure : IComparable<Pressure>
{
    /// <summary>One standard atmosphere. [bar]</summary>
    public const double AtmosphereBar = 1.01325;

    private Pressure(double value) => Bar = value;

    /// <summary>One standard atmosphere.</summary>
    public static Pressure Atmosphere { get; } = new(AtmosphereBar);

    /// <summary>The absolute pressure in bar.</summary>
    public double Bar { get; }

    /// <summary>What a gauge shows, in bar above one standard atmosphere; below 0 for less than that.</summary>
    public double GaugeBar => Bar - AtmosphereBar;

    /// <summary>Builds the quantity from an absolute pressure. [bar]</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or outside 0 to 100 bar.</exception>
    public static Pressure FromBar(double value) => new(QuantityRange.Require(value, 0, 100, "pressure", "bar absolute"));

    /// <summary>Builds the quantity from what a gauge shows. [bar]</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or outside -1.01325 to 98 bar.</exception>
    public static Pressure FromGaugeBar(double value) => new(QuantityRange.Require(value, -AtmosphereBar, 98, "pressure", "bar gauge") + AtmosphereBar);

    /// <inheritdoc/>
    public int CompareTo(Pressure other) => Bar.CompareTo(other.Bar);

    /// <summary>Less than.</summary>
    public static bool operator <(Pressure left, Pressure right) => left.Bar < right.Bar;

    /// <summary>More than.</summary>
    public static bool operator >(Pressure left, Pressure right) => left.Bar > right.Bar;

    /// <summary>Less than or equal.</summary>
    public static bool operator <=(Pressure left, Pressure right) => left.Bar <= right.Bar;

    /// <summary>More than or equal.</summary>
    public static bool operator >=(Pressure left, Pressure right) => left.Bar >= right.Bar;
}
