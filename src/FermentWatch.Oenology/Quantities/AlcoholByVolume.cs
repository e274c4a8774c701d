namespace FermentWatch.Oenology.Quantities;

/// <summary>Alcoholic strength by volume at 20 °C: liters of ethanol in 100 liters.</summary>
/// <remarks>Valid from 0 to 100 % vol.</remarks>
public readonly record struct AlcoholByVolume : IComparable<AlcoholByVolume>
{
    private AlcoholByVolume(double value) => Percent = value;

    /// <summary>The strength in percent by volume.</summary>
    public double Percent { get; }

    /// <summary>Builds the quantity. [% vol]</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or outside 0 to 100 % vol.</exception>
    public static AlcoholByVolume FromPercent(double value) => new(QuantityRange.Require(value, 0, 100, "alcohol", "% vol"));

    /// <inheritdoc/>
    public int CompareTo(AlcoholByVolume other) => Percent.CompareTo(other.Percent);

    /// <summary>Less than.</summary>
    public static bool operator <(AlcoholByVolume left, AlcoholByVolume right) => left.Percent < right.Percent;

    /// <summary>More than.</summary>
    public static bool operator >(AlcoholByVolume left, AlcoholByVolume right) => left.Percent > right.Percent;

    /// <summary>Less than or equal.</summary>
    public static bool operator <=(AlcoholByVolume left, AlcoholByVolume right) => left.Percent <= right.Percent;

    /// <summary>More than or equal.</summary>
    public static bool operator >=(AlcoholByVolume left, AlcoholByVolume right) => left.Percent >= right.Percent;
}
