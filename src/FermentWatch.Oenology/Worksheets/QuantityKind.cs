using System.Globalization;
using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Oenology.Worksheets;

/// <summary>What a number of a worksheet measures: the unit it is kept in, and the units it may be given in.</summary>
/// <param name="Name">Name in the catalogue, such as "volume".</param>
/// <param name="Symbol">Symbol of the unit it is kept in; empty for a plain number.</param>
/// <param name="Units">Every unit it may be given in, the kept one included. The first matching symbol is taken.</param>
/// <param name="SmallestStep">Digits after the point that a reader can use at most.</param>
public sealed record QuantityKind(string Name, string Symbol, IReadOnlyList<UnitSymbol> Units, int SmallestStep)
{
    private const double LitersPerUsGallon = 3.785411784;
    private const double MillilitersPerUsFluidOunce = 29.5735295625;
    private const double GramsPerOunce = 28.349523125;
    private const double GramsPerPound = 453.59237;
    private const double BarPerPoundPerSquareInch = 0.0689475729;

    /// <summary>Specific gravity 20/20 °C; also taken in °Plato or °Brix of a sucrose solution.</summary>
    public static QuantityKind Gravity { get; } = new("gravity", "SG", [UnitSymbol.Kept("SG"), Extract("°P"), Extract("P"), Extract("°Bx"), Extract("Bx")], 4);

    /// <summary>A temperature, in °C.</summary>
    public static QuantityKind Temperature { get; } = new("temperature", "°C", [UnitSymbol.Kept("°C"), UnitSymbol.Kept("C"), Fahrenheit("°F"), Fahrenheit("F")], 1);

    /// <summary>A difference of temperatures, in kelvin.</summary>
    public static QuantityKind TemperatureDifference { get; } = Of("temperature-difference", "K", 1, ("°F", 1 / 1.8), ("F", 1 / 1.8));

    /// <summary>A volume of must, wine or mead, in liters; gallons are US gallons.</summary>
    public static QuantityKind Volume { get; } = Of("volume", "L", 2, ("mL", 0.001), ("gal", LitersPerUsGallon));

    /// <summary>A volume on the bench, in milliliters; ounces are US fluid ounces.</summary>
    public static QuantityKind SmallVolume { get; } = Of("small-volume", "mL", 2, ("L", 1000), ("floz", MillilitersPerUsFluidOunce), ("gal", LitersPerUsGallon * 1000));

    /// <summary>Volume of a room, in cubic meters.</summary>
    public static QuantityKind RoomVolume { get; } = Of("room-volume", "m³", 1, ("m3", 1), ("ft3", 0.028316846592));

    /// <summary>A mass on the bench, in grams.</summary>
    public static QuantityKind Mass { get; } = Of("mass", "g", 3, ("mg", 0.001), ("kg", 1000), ("oz", GramsPerOunce), ("lb", GramsPerPound));

    /// <summary>A mass of must, honey or sugar, in kilograms.</summary>
    public static QuantityKind LargeMass { get; } = Of("large-mass", "kg", 3, ("g", 0.001), ("oz", GramsPerOunce / 1000), ("lb", GramsPerPound / 1000));

    /// <summary>Sugar or extract dissolved, in grams per liter.</summary>
    public static QuantityKind SugarConcentration { get; } = Of("sugar-concentration", "g/L", 1);

    /// <summary>Acid dissolved, in grams per liter; the field says as which acid.</summary>
    public static QuantityKind AcidConcentration { get; } = Of("acid-concentration", "g/L", 2);

    /// <summary>A dose in grams per liter.</summary>
    public static QuantityKind Dose { get; } = Of("dose", "g/L", 3, ("mg/L", 0.001), ("g/hL", 0.01));

    /// <summary>A dose or content in milligrams per liter.</summary>
    public static QuantityKind SmallDose { get; } = Of("small-dose", "mg/L", 1, ("g/L", 1000), ("g/hL", 10));

    /// <summary>Nitrogen that yeast can take up, in milligrams per liter.</summary>
    public static QuantityKind Nitrogen { get; } = Of("nitrogen", "mg N/L", 0, ("mg/L", 1));

    /// <summary>Alcoholic strength in percent by volume at 20 °C.</summary>
    public static QuantityKind Alcohol { get; } = Of("alcohol", "% vol", 2, ("%", 1));

    /// <summary>A share, in percent.</summary>
    public static QuantityKind Percent { get; } = Of("percent", "%", 1);

    /// <summary>pH, the negative decimal logarithm of the activity of hydrogen ions.</summary>
    public static QuantityKind Ph { get; } = new("ph", string.Empty, [UnitSymbol.Kept(string.Empty)], 2);

    /// <summary>Pressure in bar; the field says whether gauge or absolute.</summary>
    public static QuantityKind Pressure { get; } = Of("pressure", "bar", 2, ("kPa", 0.01), ("psi", BarPerPoundPerSquareInch));

    /// <summary>Days.</summary>
    public static QuantityKind Days { get; } = Of("days", "d", 1, ("h", 1.0 / 24), ("wk", 7));

    /// <summary>Hours.</summary>
    public static QuantityKind Hours { get; } = Of("hours", "h", 1, ("min", 1.0 / 60), ("d", 24));

    /// <summary>Density in kilograms per cubic meter.</summary>
    public static QuantityKind Density { get; } = Of("density", "kg/m³", 2, ("kg/m3", 1), ("g/L", 1), ("g/mL", 1000), ("g/cm³", 1000));

    /// <summary>Extract in °Plato, the same number as °Brix on a sucrose solution; also taken as a specific gravity.</summary>
    public static QuantityKind Extract20 { get; } = new("extract", "°P", [UnitSymbol.Kept("°P"), UnitSymbol.Kept("P"), UnitSymbol.Kept("°Bx"), UnitSymbol.Kept("Bx"), new UnitSymbol("SG", gravity => SucroseSolution.PlatoOf(SpecificGravity.FromRatio(gravity)).Value.Degrees, plato => SucroseSolution.GravityOf(Plato.FromDegrees(plato)).Value.Value)], 2);

    /// <summary>°Oechsle: thousandths of specific gravity above water.</summary>
    public static QuantityKind Oechsle { get; } = Of("oechsle", "°Oe", 1, ("Oe", 1));

    /// <summary>°Baumé.</summary>
    public static QuantityKind Baume { get; } = Of("baume", "°Bé", 2, ("Be", 1));

    /// <summary>Refractive index, dimensionless.</summary>
    public static QuantityKind RefractiveIndex { get; } = new("refractive-index", string.Empty, [UnitSymbol.Kept(string.Empty)], 4);

    /// <summary>A count of things: people, bottles, glasses.</summary>
    public static QuantityKind Count { get; } = new("count", string.Empty, [UnitSymbol.Kept(string.Empty)], 0);

    /// <summary>A plain ratio.</summary>
    public static QuantityKind Ratio { get; } = new("ratio", string.Empty, [UnitSymbol.Kept(string.Empty)], 3);

    /// <summary>Every kind, for tests and for the page.</summary>
    public static IReadOnlyList<QuantityKind> All { get; } =
    [
        Gravity, Temperature, TemperatureDifference, Volume, SmallVolume, RoomVolume, Mass, LargeMass, SugarConcentration, AcidConcentration,
        Dose, SmallDose, Nitrogen, Alcohol, Percent, Ph, Pressure, Days, Hours, Density, Extract20, Oechsle, Baume, RefractiveIndex, Count, Ratio,
    ];

    /// <summary>Reads "5 gal", "68°F" or "20" into the kept unit.</summary>
    /// <param name="text">A number with a point as decimal mark, and a unit of <see cref="Units"/> or none.</param>
    /// <param name="value">The number in the kept unit.</param>
    /// <returns>Whether the text is a finite number with a unit that this kind knows.</returns>
    public bool TryRead(string text, out double value)
    {
        value = double.NaN;
        var trimmed = text.Trim();
        foreach (var unit in Units.Where(unit => unit.Symbol.Length > 0).OrderByDescending(unit => unit.Symbol.Length))
        {
            if (trimmed.EndsWith(unit.Symbol, StringComparison.Ordinal) && TryNumber(trimmed[..^unit.Symbol.Length], out var given))
            {
                return TryConvert(unit, given, out value);
            }
        }

        return TryNumber(trimmed, out value);
    }

    private static bool TryNumber(string text, out double value) =>
        double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture, out value)
        && double.IsFinite(value);

    private static bool TryConvert(UnitSymbol unit, double given, out double value)
    {
        try
        {
            value = unit.ToKept(given);
            return double.IsFinite(value);
        }
        catch (ArgumentOutOfRangeException)
        {
            value = double.NaN;
            return false;
        }
    }

    private static QuantityKind Of(string name, string symbol, int smallestStep, params (string Symbol, double Factor)[] others) =>
        new(name, symbol, [UnitSymbol.Kept(symbol), .. others.Select(other => new UnitSymbol(other.Symbol, given => given * other.Factor, kept => kept / other.Factor))], smallestStep);

    private static UnitSymbol Extract(string symbol) => new(
        symbol,
        plato => SucroseSolution.GravityOf(Plato.FromDegrees(plato)).Value.Value,
        gravity => SucroseSolution.PlatoOf(SpecificGravity.FromRatio(gravity)).Value.Degrees);

    private static UnitSymbol Fahrenheit(string symbol) => new(symbol, given => (given - 32) / 1.8, kept => (kept * 1.8) + 32);
}
