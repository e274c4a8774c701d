using FermentWatch.Oenology.Density;
using FermentWatch.Oenology.Quantities;

namespace FermentWatch.Service.Dashboard.Words;

/// <summary>Numbers of form fields. A field names the unit in which its number is stored: SG, °C, L, mL, g and kg follow the reader; pH, g/L, mg/L and % vol are the same for everybody.</summary>
public sealed partial class Reader
{
    /// <summary>Unit of a difference of temperatures, whose zero is the same for everybody.</summary>
    public const string Difference = "Δ°C";

    private const double KilogramsPerPound = 16 * Words.Units.GramsPerOunce / 1000;

    private const double MillilitersPerFluidOunce = Words.Units.LitersPerGallon * 1000 / 128;

    /// <summary>Unit in which the reader writes what is stored in <paramref name="unit"/>; beside gallons stand fluid ounces, beside ounces pounds.</summary>
    public string FieldUnit(string unit) => unit switch
    {
        "SG" when GravitySign.Length > 0 => GravitySign,
        "°C" or Difference => DegreeSign,
        "L" when Units.Volume == VolumeUnit.UsGallons => "gal",
        "mL" when Units.Volume == VolumeUnit.UsGallons => "fl oz",
        "g" when Units.Mass == MassUnit.Ounces => "oz",
        "kg" when Units.Mass == MassUnit.Ounces => "lb",
        _ => unit,
    };

    /// <summary>A stored number in the reader's unit.</summary>
    public double FieldValue(double stored, string unit) => FieldUnit(unit) switch
    {
        "°P" or "°Bx" => GravityValue(stored),
        "°F" when unit == Difference => stored * 1.8,
        "°F" => DegreesValue(stored),
        var shown => stored / Size(shown),
    };

    /// <summary>A number of the reader's unit as it is stored; infinite where no such gravity can be.</summary>
    public double FieldStored(double typed, string unit) => FieldUnit(unit) switch
    {
        "°P" or "°Bx" when typed < GravityValue(SpecificGravity.Lowest) => double.NegativeInfinity,
        "°P" or "°Bx" when typed > GravityValue(SpecificGravity.Highest) => double.PositiveInfinity,
        "°P" or "°Bx" => GravityUnits.GravityOf(Plato.FromDegrees(typed)).Value,
        "°F" when unit == Difference => typed / 1.8,
        "°F" => (typed - 32) / 1.8,
        var shown => typed * Size(shown),
    };

    /// <summary>Digits after the mark that keep in the reader's unit what <paramref name="digits"/> keep in the stored one.</summary>
    public int FieldDigits(string unit, int digits) => FieldUnit(unit) switch
    {
        "°P" or "°Bx" => Math.Max(0, digits - 2),
        "gal" or "fl oz" or "oz" => digits + 1,
        _ => digits,
    };

    /// <summary>A stored number as it stands in a form's box: without unit, no digits that say nothing.</summary>
    public string FieldText(double stored, string unit, int digits)
    {
        var shown = FieldUnit(unit);
        var format = shown == "SG" ? "0.000#" : shown is "°P" or "°Bx" ? "0.0#" : "0." + new string('#', FieldDigits(unit, digits));
        return Number(FieldValue(stored, unit), format);
    }

    /// <summary>A limit of a field in the reader's unit, rounded to the inside so that what is named is also taken.</summary>
    public string FieldLimit(double stored, string unit, bool isLowest)
    {
        var value = FieldValue(stored, unit);
        var step = FieldUnit(unit) switch
        {
            "°P" or "°Bx" or "°F" => 0.1,
            // Three digits: a limit of hundreds of gallons has no thousandths.
            "gal" or "fl oz" or "oz" or "lb" => Math.Pow(10, Math.Floor(Math.Log10(Math.Max(Math.Abs(value), 0.01))) - 2),
            _ => 0.001,
        };
        // What the conversion is off by in the last bits must not move a limit.
        var steps = isLowest ? Math.Ceiling((value / step) - 1e-6) : Math.Floor((value / step) + 1e-6);
        return Number(steps * step, FieldUnit(unit) == "SG" ? "0.000" : step < 0.001 ? "0.####" : "0.###");
    }

    /// <summary>A stored number with its unit, as a sentence shows it.</summary>
    public string Field(double stored, string unit, int digits)
    {
        var shown = FieldUnit(unit);
        var format = shown == "SG" ? "F3" : shown is "°P" or "°Bx" ? "F1" : "0." + new string('#', FieldDigits(unit, digits));
        var text = Number(FieldValue(stored, unit), format);
        return shown.Length == 0 ? text : Joined(text, shown.Replace(' ', Figures.NoBreak));
    }

    /// <summary>A small difference of two gravities with its sign, its unit standing elsewhere: '+0.0006', '-0.15'.</summary>
    public string GravityOff(double ratio)
    {
        var (value, digits) = Units.Gravity == GravityUnit.SpecificGravity ? (ratio, 4) : (GravityApart(ratio), 2);
        return (Math.Round(value, digits) switch { > 0 => "+", < 0 => "−", _ => "" }) + Number(Math.Abs(value), "F" + digits);
    }

    private static double Size(string shown) => shown switch
    {
        "gal" => Words.Units.LitersPerGallon,
        "fl oz" => MillilitersPerFluidOunce,
        "oz" => Words.Units.GramsPerOunce,
        "lb" => KilogramsPerPound,
        _ => 1,
    };
}
