namespace FermentWatch.Service.Dashboard.Words;

/// <summary>In what gravity is written.</summary>
public enum GravityUnit
{
    /// <summary>Specific gravity 20/20 °C.</summary>
    SpecificGravity = 0,

    /// <summary>°Plato.</summary>
    Plato = 1,

    /// <summary>°Brix by hydrometer.</summary>
    Brix = 2,
}

/// <summary>In what temperature is written.</summary>
public enum TemperatureUnit
{
    /// <summary>°C.</summary>
    Celsius = 0,

    /// <summary>°F.</summary>
    Fahrenheit = 1,
}

/// <summary>In what volume is written.</summary>
public enum VolumeUnit
{
    /// <summary>Liters.</summary>
    Liters = 0,

    /// <summary>US liquid gallons.</summary>
    UsGallons = 1,
}

/// <summary>In what mass is written.</summary>
public enum MassUnit
{
    /// <summary>Grams.</summary>
    Grams = 0,

    /// <summary>Avoirdupois ounces.</summary>
    Ounces = 1,
}

/// <summary>What separates a number's whole part from its fraction.</summary>
public enum DecimalMark
{
    /// <summary>A point: 1.012.</summary>
    Point = 0,

    /// <summary>A comma: 1,012.</summary>
    Comma = 1,
}

/// <summary>How a reader wants numbers written.</summary>
/// <param name="Gravity">Gravity.</param>
/// <param name="Temperature">Temperature.</param>
/// <param name="Volume">Volume.</param>
/// <param name="Mass">Mass.</param>
/// <param name="Mark">The decimal mark.</param>
public sealed record Units(GravityUnit Gravity, TemperatureUnit Temperature, VolumeUnit Volume, MassUnit Mass, DecimalMark Mark)
{
    /// <summary>Liters in a US liquid gallon, exactly. NIST SP 811 (2008), appendix B.8.</summary>
    public const double LitersPerGallon = 3.785411784;

    /// <summary>Grams in an avoirdupois ounce, exactly. NIST SP 811 (2008), appendix B.8.</summary>
    public const double GramsPerOunce = 28.349523125;

    /// <summary>Specific gravity, °C, liters, grams, decimal point.</summary>
    public static Units Usual { get; } = new(GravityUnit.SpecificGravity, TemperatureUnit.Celsius, VolumeUnit.Liters, MassUnit.Grams, DecimalMark.Point);
}
