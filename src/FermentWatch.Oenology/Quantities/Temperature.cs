namespace FermentWatch.Oenology.Quantities;

/// <summary>A temperature of must, wine, mead or room. Not a temperature difference.</summary>
/// <remarks>Valid from -40 to 150 °C: wider than any cellar, narrow enough to refuse a mistaken unit in kelvin.</remarks>
public readonly record struct Temperature : IComparable<Temperature>
{
    /// <summary>Lowest value that can be built. [°C]</summary>
    public const double LowestCelsius = -40;

    /// <summary>Highest value that can be built. [°C]</summary>
    public const double HighestCelsius = 150;

    private Temperature(double celsius) => Celsius = celsius;

    /// <summary>The temperature in degrees Celsius (ITS-90).</summary>
    public double Celsius { get; }

    /// <summary>The temperature in degrees Fahrenheit, exactly 1.8 t + 32.</summary>
    public double Fahrenheit => (Celsius * 1.8) + 32;

    /// <summary>The temperature in kelvin, exactly t + 273.15.</summary>
    public double Kelvin => Celsius + 273.15;

    /// <summary>Builds a temperature from degrees Celsius.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or outside -40 to 150 °C.</exception>
    public static Temperature FromCelsius(double celsius) =>
        new(QuantityRange.Require(celsius, LowestCelsius, HighestCelsius, "temperature", "°C"));

    /// <summary>Builds a temperature from degrees Fahrenheit.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or outside -40 to 150 °C.</exception>
    public static Temperature FromFahrenheit(double fahrenheit) => FromCelsius((fahrenheit - 32) / 1.8);

    /// <summary>Builds a temperature from kelvin.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or outside -40 to 150 °C.</exception>
    public static Temperature FromKelvin(double kelvin) => FromCelsius(kelvin - 273.15);

    /// <inheritdoc/>
    public int CompareTo(Temperature other) => Celsius.CompareTo(other.Celsius);

    /// <summary>Colder than.</summary>
    public static bool operator <(Temperature left, Temperature right) => left.Celsius < right.Celsius;

    /// <summary>Warmer than.</summary>
    public static bool operator >(Temperature left, Temperature right) => left.Celsius > right.Celsius;

    /// <summary>Colder than or equal.</summary>
    public static bool operator <=(Temperature left, Temperature right) => left.Celsius <= right.Celsius;

    /// <summary>Warmer than or equal.</summary>
    public static bool operator >=(Temperature left, Temperature right) => left.Celsius >= right.Celsius;
}
