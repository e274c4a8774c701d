using System.Globalization;
using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Service.Dashboard.Words;

/// <summary>Numbers in the reader's units, with sensible digits and the reader's decimal mark.</summary>
public sealed partial class Reader
{
    // Degrees Plato for a unit of gravity, where a difference stands without the gravity that it begins at: the slope at 1.040.
    private const double MidGravity = 1.040;

    /// <summary>The reader's units and decimal mark.</summary>
    public Units Units { get; } = units ?? Units.Usual;

    /// <summary>'°C' or '°F'.</summary>
    public string DegreeSign => Units.Temperature == TemperatureUnit.Celsius ? "°C" : "°F";

    /// <summary>The gravity's unit behind a number: empty, '°P' or '°Bx'.</summary>
    public string GravitySign => Units.Gravity switch { GravityUnit.Plato => "°P", GravityUnit.Brix => "°Bx", _ => "" };

    /// <summary>Size of the last digit shown of a gravity, in the reader's unit.</summary>
    public double GravityDigit => Units.Gravity == GravityUnit.SpecificGravity ? 0.001 : 0.1;

    /// <summary>A number with this format ('0.0', 'F3') and the reader's mark.</summary>
    public string Number(double value, string format)
    {
        // No minus before a zero.
        var text = value.ToString(format, CultureInfo.InvariantCulture);
        text = text.StartsWith('-') && text.All(letter => letter is '-' or '0' or '.') ? text[1..] : text;
        return Marked(text);
    }

    /// <summary>A number that is written out already, with the reader's mark instead of the point.</summary>
    public string Marked(string invariant) => Units.Mark == DecimalMark.Comma ? invariant.Replace('.', ',') : invariant;

    /// <summary>A gravity as a number in the reader's unit: the ratio, °P or °Bx.</summary>
    public double GravityValue(double ratio) =>
        Units.Gravity == GravityUnit.SpecificGravity ? ratio : GravityUnits.PlatoOf(SpecificGravity.FromRatio(ratio)).Degrees;

    /// <summary>A number in the reader's unit of gravity, for an axis: '1.060', '15', '2.5'.</summary>
    public string GravityMark(double value) => Number(value, Units.Gravity == GravityUnit.SpecificGravity ? "F3" : "0.#");

    /// <summary>'1.066', '16.1 °P', '16.1 °Bx'.</summary>
    public string Gravity(double ratio) => WithSign(Number(GravityValue(ratio), GravityFormat));

    /// <summary>'1.066', '16.1 °P', '16.1 °Bx'.</summary>
    public string Gravity(SpecificGravity gravity) => Gravity(gravity.Value);

    /// <summary>A difference of two gravities: '0.004', or '0.0004' where three digits would say nothing; '1.0 °P'.</summary>
    /// <remarks>In °P and °Bx by the slope at 1.040, right to 8 % from 1.000 to 1.100: the gravity at which it stands is not known here.</remarks>
    public string GravityDifference(double ratio)
    {
        var value = GravityApart(ratio);
        var format = Units.Gravity == GravityUnit.SpecificGravity
            ? Math.Abs(ratio) < 0.00095 ? "F4" : "F3"
            : Math.Abs(value) < 0.095 ? "F2" : "F1";
        return WithSign(Number(value, format));
    }

    /// <summary>A fall in a day without the words 'a day': '15 points', '0.8 points', '3.7 °P'.</summary>
    public string Fall(double ratio) => Units.Gravity == GravityUnit.SpecificGravity
        ? Number(ratio * 1000, ratio < 0.003 ? "0.0" : "0") + Figures.NoBreak + PageText.Of("unit-points")
        : WithSign(Number(GravityApart(ratio), Math.Abs(GravityApart(ratio)) < 0.095 ? "F2" : "F1"));

    /// <summary>'19.4 °C', '66.9 °F'.</summary>
    public string Degrees(double celsius) => Joined(Number(DegreesValue(celsius), "F1"), DegreeSign);

    /// <summary>A difference of two temperatures: '0.6 °C', '1.1 °F'.</summary>
    public string DegreesApart(double celsius) => Joined(Number(DegreesApartValue(celsius), "F1"), DegreeSign);

    /// <summary>'18' or '18.5', for the limits of a band whose unit stands beside it.</summary>
    public string BareDegrees(double celsius) => Number(DegreesValue(celsius), "0.#");

    /// <summary>A difference without its unit, which stands beside it.</summary>
    public string BareDegreesApart(double celsius) => Number(DegreesApartValue(celsius), "0.#");

    /// <summary>'4.6 % vol'.</summary>
    public string Alcohol(double percent) => Joined(Joined(Number(percent, "F1"), "%"), "vol");

    /// <summary>'19.0 L', '5.02 gal'.</summary>
    public string Volume(double liters) => Units.Volume == VolumeUnit.Liters
        ? Joined(Number(liters, "0.0"), "L")
        : Joined(Number(liters / Units.LitersPerGallon, "0.00"), "gal");

    /// <summary>'250 g', '2.5 g', '8.8 oz', '0.09 oz'.</summary>
    public string Mass(double grams)
    {
        var (value, sign) = Units.Mass == MassUnit.Grams ? (grams, "g") : (grams / Units.GramsPerOunce, "oz");
        var format = Math.Abs(value) switch { < 1 => "0.00", < 100 => "0.0", _ => "0" };
        return Joined(Number(value, format), sign);
    }

    private string GravityFormat => Units.Gravity == GravityUnit.SpecificGravity ? "F3" : "F1";

    private double GravityApart(double ratio) => Units.Gravity == GravityUnit.SpecificGravity
        ? ratio
        : ratio * (GravityValue(MidGravity + 0.001) - GravityValue(MidGravity - 0.001)) / 0.002;

    private double DegreesValue(double celsius) => Units.Temperature == TemperatureUnit.Celsius ? celsius : (celsius * 1.8) + 32;

    private double DegreesApartValue(double celsius) => Units.Temperature == TemperatureUnit.Celsius ? celsius : celsius * 1.8;

    private string WithSign(string number) => GravitySign.Length == 0 ? number : Joined(number, GravitySign);

    private static string Joined(string first, string second) => first + Figures.NoBreak + second;
}
